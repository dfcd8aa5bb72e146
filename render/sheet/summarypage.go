package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report/summary"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

// frontPage makes a page of a Summary. What has no room on one page is counted, and stands
// on the sheets behind.
type frontPage struct {
	*summary.Summary
	rows, letters int // of a table and of a cell at most
}

// onOnePage gives the page with as much as one page of any paper holds.
func onOnePage(s *summary.Summary, faces *render.Faces) frontPage {
	for _, f := range []frontPage{{s, 40, 60}, {s, 24, 60}, {s, 14, 48}, {s, 8, 40}, {s, 5, 30}, {s, 5, 20}, {s, 3, 12}} {
		if f.fits(faces) {
			return f
		}
	}
	return frontPage{s, 2, 8}
}

func (f frontPage) fits(faces *render.Faces) bool {
	sh := f.Printed()
	for _, size := range paper.Sizes() {
		if len(sh.Pages(faces, size)) > 1 {
			return false
		}
	}
	return true
}

// Printed gives the page in front of all sheets: what is played, what is open, what
// the night changes, what stands loaded, and the sheets with their pages and signers.
func (f frontPage) Printed() *paper.Sheet {
	sh := titled(&f.Head, "Summary")
	sh.Wide = false
	sh.Parts = append(sh.Parts, f.figures(), f.songs())
	if f.Cues != nil {
		sh.Parts = append(sh.Parts, f.tonight())
	}
	sh.Parts = append(sh.Parts, f.loads(), f.sheets())
	return sh
}

func (f frontPage) figures() paper.Part {
	errors := "not asked"
	p := paper.Part{}
	if c := f.Checked; c != nil {
		errors = strconv.Itoa(c.Errors)
		if f.NoData > 0 {
			p.Notes = append(p.Notes, "Not compared, since it is not given: "+timeline.Counted(f.NoData, "thing")+", told on the inspector sheet.")
		}
		if len(f.Off) > 0 {
			p.Notes = append(p.Notes, "Rules set otherwise: "+f.some(f.cutAll(f.Off), "inspector sheet"))
		}
	}
	p.Figures = []paper.Fact{{Label: "errors open", Text: errors}, {Label: "songs · with the gaps", Text: fmt.Sprintf("%d · %s", len(f.Songs), wording.Clock(f.Length))}, {Label: "commands", Text: strconv.Itoa(f.Used.Commands)}, {Label: "pieces on site · NEC", Text: fmt.Sprintf("%d · %s g", f.Used.Pieces, wording.Grams(f.Used.NEC))}}
	return p
}

func (f frontPage) songs() paper.Part {
	p := paper.Part{Heading: "What is played", Dense: true, Beside: 2, Columns: columns(">no.", "song", "starts", ">long", ">commands")}
	if len(f.Songs) == 0 {
		p.Notes, p.Columns = []string{"No song is played."}, nil
	}
	for i := range f.Songs {
		s := &f.Songs[i]
		if i == f.rows && len(f.Songs) > f.rows+1 {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{"", fmt.Sprintf("and %d more: running sheet", len(f.Songs)-i), "", "", ""}})
			break
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{strconv.Itoa(s.Number), f.cut(s.Title, 1), s.Start, wording.Clock(s.Duration), strconv.Itoa(s.Commands)}})
	}
	var not []string
	for _, n := range f.NotPlayed {
		not = append(not, f.cut(n.Title, 1)+" ("+f.cut(n.Why, 1)+")")
	}
	if len(not) > 0 {
		p.Notes = append(p.Notes, "Not played: "+f.some(not, "cut list"))
	}
	return p
}

// tonight is what the night does otherwise than the tour.
func (f frontPage) tonight() paper.Part {
	c := f.Cues
	p := paper.Part{Heading: "Otherwise than on tour", Notes: []string{fmt.Sprintf("Cues: %d on tour, %d played tonight, %d of them not on all their units, %d with another article; %d cut, %d lost.", c.Tour, c.Played, c.Partly, c.Swapped, c.Cut, c.Lost)}}
	if len(f.Changes) == 0 {
		p.Notes = append(p.Notes, "No change is entered for this night.")
		return p
	}
	p.Dense, p.Columns = true, columns("change", ">cues", "reason")
	for i := range f.Changes {
		x := &f.Changes[i]
		if i == f.rows && len(f.Changes) > f.rows+1 {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{fmt.Sprintf("and %d more: cut list", len(f.Changes)-i), "", ""}})
			break
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{f.cut(x.Text, 2), strconv.Itoa(x.Cues), f.cut(wording.Given(x.Reason), 2)}})
	}
	return p
}

func (f frontPage) loads() paper.Part {
	p := paper.Part{Heading: "Loads", Dense: true, Columns: columns("bank", "kind", ">outputs loaded", ">pieces", ">NEC g", "state")}
	for i := range f.Banks {
		b := &f.Banks[i]
		if i == f.rows && len(f.Banks) > f.rows+1 {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{fmt.Sprintf("and %d more: load plan", len(f.Banks)-i), "", "", "", "", ""}})
			break
		}
		state, of := "", "of unknown"
		if b.Dead {
			state = "OUT OF SERVICE"
		}
		if b.Outputs > 0 {
			of = "of " + strconv.Itoa(b.Outputs)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{f.cut(b.Name, 1), b.Kind, fmt.Sprintf("%d %s", b.Loaded, of), strconv.Itoa(b.Pieces), wording.Grams(b.NEC), state}})
	}
	if len(f.Banks) == 0 {
		p.Columns = nil
	}
	devices := timeline.Counted(f.Devices, "device") + " with an effect"
	if len(f.Out) > 0 {
		devices += ", out of service: " + f.some(f.cutAll(f.Out), "load plan")
	}
	p.Notes = append(p.Notes, devices+fmt.Sprintf("; placed effects not wired: %d", f.Loose)+f.Used.Beside()+".")
	var divisions, media []string
	for _, d := range f.Used.Divisions {
		divisions = append(divisions, fmt.Sprintf("%s %s, %s g", f.cut(wording.Division(d.Division), 1), timeline.Counted(d.Pieces, "piece"), wording.Grams(d.NEC)))
	}
	for _, m := range f.Media {
		text := fmt.Sprintf("%s %s, no supply entered", f.cut(m.Medium, 1), wording.Mass(f.Told, m.Uses))
		if m.Supplies > 0 {
			text = fmt.Sprintf("%s %s of %s on site", f.cut(m.Medium, 1), wording.Mass(f.Told, m.Uses), wording.Mass(f.Told, m.Filled))
		}
		if m.Swaps > 0 {
			text += ", " + timeline.Counted(m.Swaps, "swap")
		}
		media = append(media, text)
	}
	if len(divisions) > 0 {
		p.Notes = append(p.Notes, "Hazard divisions: "+f.some(divisions, "load plan"))
	}
	if len(media) > 0 {
		p.Notes = append(p.Notes, "Used, about: "+f.some(media, "order list"))
	}
	return p
}

// sheets is the table of contents, with those who sign.
func (f frontPage) sheets() paper.Part {
	p := paper.Part{Heading: "The sheets behind", Dense: true, Beside: 2, Columns: columns("sheet", "for", ">pages", "file")}
	count := timeline.Counted(f.Pages, "page") + " with this one"
	if f.One {
		p.Columns = columns("sheet", "for", ">pages", ">from page")
	} else {
		count += " on " + f.Paper + " paper"
	}
	var signed []string
	for i := range f.Sheets {
		s := &f.Sheets[i]
		at := s.Name
		if f.One {
			at = strconv.Itoa(s.First)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Title, s.For, strconv.Itoa(s.Pages), at}})
		if len(s.Sign) > 0 {
			signed = append(signed, s.Title+" by "+strings.Join(s.Sign, ", "))
		}
	}
	switch {
	case len(signed) > 0 && f.rows > 14:
		p.Notes = append([]string{count + ". To be signed:"}, signed...)
	case len(signed) > 0:
		p.Notes = []string{count + ". To be signed: " + strings.Join(signed, ". ") + "."}
	default:
		p.Notes = []string{count}
	}
	return p
}

// some tells a few of a list, and counts the others.
func (f frontPage) some(list []string, where string) string {
	var texts []string
	for i, text := range list {
		if i == f.rows/4+1 && len(list) > i+1 {
			texts = append(texts, fmt.Sprintf("and %d more: %s", len(list)-i, where))
			break
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, "; ")
}

// cut shortens a text to some cells.
func (f frontPage) cut(text string, cells int) string {
	if n := cells * f.letters; utf8.RuneCountInString(text) > n {
		return string([]rune(text)[:n-1]) + "…"
	}
	return text
}

func (f frontPage) cutAll(list []string) (short []string) {
	for _, text := range list {
		short = append(short, f.cut(text, 2))
	}
	return short
}

// WriteCSV writes the page after RFC 4180.
func (f frontPage) WriteCSV(w io.Writer) error {
	return writeParts(w, "summary", f.Head, f.Printed().Parts)
}

var _ Sheet = frontPage{}
