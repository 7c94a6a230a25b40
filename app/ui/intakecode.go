package ui

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"runnel/geo/gdal"
	"runnel/geo/survey"
)

// commonCodes are point codes by which those who survey often mean lines.
var commonCodes = map[survey.Use][]string{
	survey.Kerb:  {"KERB", "KB", "KRB", "CURB"},
	survey.Break: {"BL", "BRK", "BREAK", "BREAKLINE", "TOE", "TOB"},
	survey.Edge:  {"EDGE", "BND", "BDY", "BNDY", "BOUND", "BOUNDARY", "LIMIT"},
}

// likelyUses are what the points of some codes seem to be joined to, by their names:
// the first word, without a number behind it.
func likelyUses(codes []string) map[string]survey.Use {
	uses := map[string]survey.Use{}
	for _, code := range codes {
		words := strings.Fields(strings.ToUpper(code))
		if len(words) == 0 {
			continue
		}
		name := strings.TrimRight(words[0], "0123456789")
		for use, names := range commonCodes {
			if slices.Contains(names, name) {
				uses[code] = use
			}
		}
	}
	return uses
}

// codes are those of the points that were read.
func (f *fileState) codes() (codes []string) {
	if f.how.Form != survey.Points {
		return nil
	}
	for _, s := range f.survey.Sources {
		codes = append(codes, s.Codes...)
	}
	return codes
}

// guessUses guesses once what the codes of a file mean; it reports whether any of
// them means something.
func (f *fileState) guessUses() bool {
	if f.guessed || f.how.Uses != nil {
		return false
	}
	f.guessed = true
	uses := likelyUses(f.codes())
	if len(uses) == 0 {
		return false
	}
	f.how.Uses = uses
	return true
}

// codeRows ask what the points of each code are.
func (c *surveying) codeRows(p *formPart, f *measuredFile) (rows []fyne.CanvasObject) {
	codes := f.codes()
	if len(codes) == 0 {
		return nil
	}
	words := append([]string{tr("plain points")}, lineUses()...)
	rows = append(rows, text(tr("Points of a code are joined to lines, in their order"), caption))
	if len(likelyUses(codes)) > 0 {
		rows = append(rows, paragraph(tr("What some codes are is guessed from their names. Change it where it is wrong.")))
	}
	for _, code := range codes[:min(len(codes), mostRows)] {
		s := c.pick(p, words, int(f.how.Uses[code]), func(i int) { c.reread(f, func(*gdal.SurveyOptions) { f.use(code, i) }) })
		rows = append(rows, newQuestion(trf("Code %s", code), s, "").row)
	}
	return rows
}
