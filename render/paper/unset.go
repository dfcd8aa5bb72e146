package paper

import (
	"fmt"
	"strings"

	"emberbeat/render/letter"
)

// unset gives the part that says which texts of a sheet are not printed as they are
// written, since no font here has all their letters. ok is false where all are.
func (sh *Sheet) unset() (p Part, ok bool) {
	p = Part{Heading: "Not printed as written", Columns: []Column{{Name: "printed"}, {Name: "letters that no font here has"}},
		Notes: []string{fmt.Sprintf("These texts hold letters that cannot be printed here; each stands as %c. CSV and JSON have them as they are.", letter.Stand)}}
	seen := map[string]bool{}
	look := func(texts ...string) {
		for _, text := range texts {
			missing := letter.Missing(text)
			if len(missing) == 0 || seen[text] {
				continue
			}
			seen[text] = true
			p.Rows = append(p.Rows, Row{Cells: []string{text, codes(missing)}})
		}
	}
	look(sh.Title)
	facts := func(list []Fact) {
		for _, f := range list {
			look(f.Label, f.Text)
		}
	}
	facts(sh.Facts)
	look(sh.Stamp)
	for i := range sh.Parts {
		of := &sh.Parts[i]
		look(of.Heading)
		look(of.Notes...)
		facts(of.Figures)
		facts(of.Entries)
		for _, c := range of.Columns {
			look(c.Name)
		}
		for _, r := range of.Rows {
			look(r.Cells...)
		}
	}
	look(sh.Foot)
	return p, len(p.Rows) > 0
}

// codes names letters by their numbers, which every font has.
func codes(list []rune) string {
	names := make([]string, len(list))
	for i, r := range list {
		names[i] = fmt.Sprintf("%U", r)
	}
	return strings.Join(names, " ")
}
