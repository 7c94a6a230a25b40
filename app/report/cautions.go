package report

import (
	"fmt"
	"io"
	"strings"

	"runnel/analysis/caution"
	"runnel/analysis/soakin"
	"runnel/geo/plan"
)

// CautionList are the cautions of a site's schemes.
type CautionList struct{ SoakFigures[[]CautionFigures] }

// NewCautions gathers them.
func NewCautions(s *plan.Site, accounts []*soakin.Account) CautionList {
	list := CautionList{newSoak(s, accounts, func(a *soakin.Account) []CautionFigures { return cautionsOf(a.Cautions) })}
	list.Note = caution.Deference
	return list
}

func cautionsOf(cautions []caution.Caution) []CautionFigures {
	all := []CautionFigures{}
	for _, c := range cautions {
		all = append(all, CautionFigures{c.Rule, c.Text, c.Measured, c.Guidance, append([]plan.ID{}, c.Features...)})
	}
	return all
}

// WriteTable writes the cautions for a person.
func (f CautionList) WriteTable(w io.Writer) error {
	return f.writeTable(w, func(b *strings.Builder, cautions []CautionFigures) {
		if len(cautions) == 0 {
			b.WriteString("Nothing passes its limit, which is no promise that all is safe.\n")
		}
		for i, c := range cautions {
			fmt.Fprintf(b, "%3d  %s\n", i+1, c.Text)
			for _, more := range []string{c.Measured, c.Guidance} {
				if more != "" {
					fmt.Fprintf(b, "     %s\n", more)
				}
			}
		}
	})
}
