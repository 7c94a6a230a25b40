package ui

import (
	"strings"
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
	// called in itself.
	code, name string
	// mark parts the decimals of a figure. Thousands are parted by a thin space in
	// every language (ISO 80000-1, 7.3.1).
	mark string
	// book says what is made below the window; nil is English.
	book *words.Book
	// drawn is how pictures speak.
	drawn *view.Tongue
}

// tongues are the languages that there are catalogues of; the first is the one that
// the texts of the source are in, and serves where the system's is not among them.
var tongues = []*tongue{{code: "en", name: "English", mark: "."}, {code: "es", name: "Español", mark: ","}}

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

// tongueOf returns the language of a code.
func tongueOf(code string) *tongue {
	if code == asSystem {
		code, _, _ = strings.Cut(lang.SystemLocale().String(), "-")
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
	catalogue, err := assets.Words.ReadFile("words/" + t.code + ".json")
	if err != nil {
		panic("ui: the catalogue of a language is not built in: " + err.Error())
	}
	for _, locale := range []fyne.Locale{"en", lang.SystemLocale()} {
		// A locale that cannot be read is one that the toolkit passes over too.
		_ = lang.AddTranslationsForLocale(catalogue, locale)
	}
	if t != tongues[0] && t.book == nil {
		if t.book, err = words.Read(catalogue); err != nil {
			panic("ui: " + err.Error())
		}
		t.drawn = &view.Tongue{Say: t.book.Say, Mark: t.mark}
	}
	speaking.Store(t)
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
		list = append(list, command{menu: windowMenu, part: 6, name: trf("Language: %s", t.name), also: tr("speak words translation setting"),
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
