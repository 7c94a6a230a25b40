package ui

import (
	"maps"
	"strings"
	"sync"
	"sync/atomic"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"runnel/app/view"
	"runnel/app/words"
	"runnel/assets"
	"runnel/geo/plan"
)

// A tongue is a language that the window speaks.
type tongue struct {
	// code is its ISO 639-1 code and the name of its catalogue; name is what it is
	// called in itself, english in English, which whoever is lost may type.
	code, name, english string
	// mark parts the decimals of a figure. Thousands are parted by a thin space in
	// every language (ISO 80000-1, 7.3.1).
	mark string
	// book says what is made below the window; nil is English.
	book *words.Book
	// joins are the words that it draws together, such as "de el" to "del"; nil for none.
	joins *strings.Replacer
	// drawn is how pictures speak.
	drawn *view.Tongue
}

// tongues are the languages that there are catalogues of; the first is the one that
// the texts of the source are in, and serves where the system's is not among them.
var tongues = []*tongue{{code: "en", name: "English", english: "English", mark: "."}, {code: "es", name: "Español", english: "Spanish", mark: ",", joins: strings.NewReplacer(" de el ", " del ", " a el ", " al ")}}

const languagePreference = "language"

// asSystem stands for the system's language.
const asSystem = ""

// speaking is the language that is set. Drawers on other goroutines read it.
var speaking atomic.Pointer[tongue]

func spoken() *tongue {
	if t := speaking.Load(); t != nil {
		return t
	}
	return tongues[0]
}

// system is the language and country that the system is set to.
var system = sync.OnceValue(lang.SystemLocale)

// tongueOf returns the language of a code.
func tongueOf(code string) *tongue {
	if code == asSystem {
		code, _, _ = strings.Cut(system().String(), "-")
	}
	for _, t := range tongues {
		if t.code == code {
			return t
		}
	}
	return tongues[0]
}

// setLanguage has all texts from here on said in a language. The toolkit (2.7.1)
// follows the system and cannot be told another language, so the catalogue is given
// to it as that of the system's own, and of English, which it falls back on.
func setLanguage(code string) {
	t := tongueOf(code)
	if t == spoken() && (speaking.Load() != nil || t == tongueOf(asSystem)) {
		return // the texts of the source are English
	}
	catalogue, err := assets.Words.ReadFile("words/" + t.code + ".json")
	if err != nil {
		panic("ui: the catalogue of a language is not built in: " + err.Error())
	}
	for _, locale := range []fyne.Locale{"en", system()} {
		// A locale that cannot be read is one that the toolkit passes over too.
		_ = lang.AddTranslationsForLocale(catalogue, locale)
	}
	if t != tongues[0] && t.book == nil {
		if t.book, err = words.Read(catalogue); err != nil {
			panic("ui: " + err.Error())
		}
		t.book.Own = ownName
		t.drawn = &view.Tongue{Say: t.said, Mark: t.mark}
	}
	speaking.Store(t)
}

// ownNames are those that a person has given: of the site, of schemes, of things.
var ownNames atomic.Pointer[map[string]bool]

func ownName(text string) bool {
	names := ownNames.Load()
	return names != nil && (*names)[text]
}

// keepNames has the names of a site said as they are from here on. Those of what was
// taken away stay: an undo still speaks of it.
func keepNames(s *plan.Site) {
	names := map[string]bool{}
	if held := ownNames.Load(); held != nil {
		maps.Copy(names, *held)
	}
	names[s.Name] = true
	for _, scheme := range s.Plan.Schemes {
		names[scheme.Name] = true
	}
	for _, f := range s.Plan.Features {
		names[f.Name] = true
	}
	ownNames.Store(&names)
}

// shielded puts signs in the place of names in which a figure stands that would be
// written in other units, and returns what gives them back.
func shielded(text string) (string, *strings.Replacer) {
	var there, back []string
	if names := ownNames.Load(); names != nil {
		for name := range *names {
			if metricFigure.MatchString(name) && strings.Contains(text, name) {
				sign := string(rune(0xE000 + len(there)/2)) // of the private use area
				there, back = append(there, name, sign), append(back, sign, name)
			}
		}
	}
	return strings.NewReplacer(there...).Replace(text), strings.NewReplacer(back...)
}

// said is an English text in the language.
func (t *tongue) said(english string) string {
	text := t.book.Say(english)
	if t.joins != nil {
		text = t.joins.Replace(text)
	}
	return text
}

// typed writes a value of a field as a person types it; both the point and the comma
// are read.
func (t *tongue) typed(f plan.Field, v plan.Value) string {
	if f.Type != plan.Number {
		return v.Text
	}
	return t.marked(f.Format(v))
}

// languageCommands choose the language.
func (w *Window) languageCommands() (list []command) {
	chosen := func(code string) func() bool {
		return func() bool { return w.app.Preferences().String(languagePreference) == code }
	}
	list = append(list, command{menu: windowMenu, part: 6, name: tr("Language: as the system"), also: tr("speak words translation setting"),
		on: chosen(asSystem), do: func() { w.speak(asSystem) }})
	for _, t := range tongues {
		list = append(list, command{menu: windowMenu, part: 6, name: trf("Language: %s", t.name), also: tr("speak words translation setting") + " " + t.english,
			on: chosen(t.code), do: func() { w.speak(t.code) }})
	}
	return list
}

// speak has the window speak another language from now on.
func (w *Window) speak(code string) {
	w.app.Preferences().SetString(languagePreference, code)
	setLanguage(code)
	w.look = newLook(w.look.style, w.look.size)
	w.menu = newMenus(w)
	w.win.SetMainMenu(w.menu.main)
	w.dress(w.look)
	if w.doc != nil {
		w.draw()
	}
}
