package sheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/changed"
	"emberbeat/shows/report/wording"
)

// changeReport makes pages of a ChangeReport.
type changeReport struct{ *changed.Report }

// Printed gives the change report as pages: the counts, which sheets to print
// again, songs, outputs, totals, findings, and what else the records say.
func (r changeReport) Printed() *paper.Sheet {
	sh := titled(&r.Head, "Change report")
	sh.Parts = append(sh.Parts, r.glance(), r.printsPart(), r.songsPart(), r.outputsPart(), r.totalsPart())
	if len(r.Night) > 0 {
		p := paper.Part{Heading: "New for the night", Columns: columns("what", ">cues", "reason", "[agreed")}
		for _, c := range r.Night {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{c.Text, strconv.Itoa(c.Cues), wording.Given(c.Reason), ""}})
		}
		sh.Parts = append(sh.Parts, p)
	}
	if r.Findings != nil {
		sh.Parts = append(sh.Parts, newsPart(r.Findings))
	}
	if len(r.Records) > 0 {
		p := paper.Part{Heading: "In the show's records", Columns: columns("what")}
		for _, s := range r.Records {
			p.Rows = append(p.Rows, paper.Row{Cells: []string{s}})
		}
		sh.Parts = append(sh.Parts, p)
	}
	return sh
}

func (r changeReport) glance() paper.Part {
	var all changed.Song
	songs := 0
	for i := range r.Songs {
		s := &r.Songs[i]
		all.Moved, all.Lost, all.Added, all.Articles, all.Aimed, all.Timed = all.Moved+s.Moved, all.Lost+s.Lost, all.Added+s.Added, all.Articles+s.Articles, all.Aimed+s.Aimed, all.Timed+s.Timed
		songs += wording.OneIf(s.Changes())
	}
	n := strconv.Itoa
	o := r.Old
	before := wording.JoinGiven(" · ", o.Show, o.Night, o.Date, o.Venue, o.Set, wording.Prefixed("revision ", o.Revision), wording.Prefixed("hash ", shortHash(o.Hash)))
	notes := []string{"Compared with " + before + "."}
	if r.Hash != "" {
		notes = append(notes, "This is hash "+shortHash(r.Hash)+" of all that the show says.")
	}
	return paper.Part{Heading: "At a glance", Notes: notes, Figures: []paper.Fact{{Label: "cues moved", Text: n(all.Moved)}, {Label: "cues lost", Text: n(all.Lost)}, {Label: "cues added", Text: n(all.Added)},
		{Label: "cues with another article", Text: n(all.Articles)}, {Label: "cues on other effects", Text: n(all.Aimed)}, {Label: "commanded or held otherwise", Text: n(all.Timed)}, {Label: "songs changed", Text: n(songs)}, {Label: "outputs changed", Text: n(len(r.Outputs))},
		{Label: "sheets to print again", Text: n(len(report.PrintNames(r.Prints, report.Changed)))}}}
}

// shortHash gives enough of a hash to be compared by eye.
func shortHash(hash string) string { return hash[:min(len(hash), 16)] }

func (r changeReport) printsPart() paper.Part {
	p := paper.Part{Heading: "Sheets", Notes: []string{"Compared with what was marked as printed of this night or tour; a new revision letter alone changes no sheet."}}
	if never := report.PrintNames(r.Prints, report.NeverPrinted); len(never) > 0 {
		p.Notes = append(p.Notes, "Never marked as printed: "+strings.Join(never, ", ")+".")
	}
	if len(r.Sheets.Changed) > 0 {
		p.Notes = append(p.Notes, "They look otherwise than from the earlier one: "+strings.Join(r.Sheets.Changed, ", ")+".")
	}
	if len(r.Sheets.Same) > 0 {
		p.Notes = append(p.Notes, "They look the same: "+strings.Join(r.Sheets.Same, ", ")+".")
	}
	words := map[string]string{report.Changed: "PRINT AGAIN", report.AsPrinted: "unchanged, no need to print again", report.NotMade: "cannot be made any more"}
	for _, state := range []string{report.Changed, report.NotMade, report.AsPrinted} {
		for _, s := range r.Prints {
			if s.State == state {
				p.Rows = append(p.Rows, paper.Row{Cells: []string{s.Title, wording.JoinGiven(": ", words[state], s.Why), wording.Given(s.Revision), ""}})
			}
		}
	}
	if len(p.Rows) > 0 {
		p.Columns = columns("sheet", "state", "printed as revision", "[printed")
	}
	return p
}

func (r changeReport) songsPart() paper.Part {
	p := paper.Part{Heading: "Songs and cues", Columns: columns(">was no", ">is no", "song", "start was", "start is", ">moved", ">lost", ">added", ">other article", ">other effects", ">commanded otherwise", ">as before")}
	for i := range r.Songs {
		s := &r.Songs[i]
		n := strconv.Itoa
		place := func(no int) string {
			if no == 0 {
				return "–"
			}
			return n(no)
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{place(s.Was), place(s.Is), wording.JoinGiven(", in the place of ", s.Title, s.Instead), s.StartWas, s.StartIs, n(s.Moved), n(s.Lost), n(s.Added), n(s.Articles), n(s.Aimed), n(s.Timed), n(s.Same)}})
	}
	return p
}

func (r changeReport) outputsPart() paper.Part {
	if len(r.Outputs) == 0 {
		return paper.Part{Heading: "Outputs", Notes: []string{"Every output drives what it drove."}}
	}
	p := paper.Part{Heading: "Outputs", Columns: columns("output", "was", "now", "[done", "[tested")}
	for _, o := range r.Outputs {
		p.Rows = append(p.Rows, paper.Row{Cells: []string{o.Output, o.Was, o.Is, "", ""}})
	}
	return p
}

func (r changeReport) totalsPart() paper.Part {
	p := paper.Part{Heading: "Totals", Whole: true, Columns: columns("what", ">was", ">is", "change")}
	for _, t := range r.Totals {
		change := ""
		if t.Was != t.Is {
			change = "changed"
		}
		p.Rows = append(p.Rows, paper.Row{Cells: []string{t.What, t.Was, t.Is, change}})
	}
	return p
}

// newsPart lists the findings that come and go.
func newsPart(f *changed.FindingsDiff) paper.Part {
	p := paper.Part{Heading: "Findings", Notes: []string{fmt.Sprintf("%d new, %d gone, %d as before. No finding means no conflict found with the rules, and no more than that.", len(f.New), len(f.Gone), f.Stay)}}
	if len(f.New)+len(f.Gone) == 0 {
		return p
	}
	p.Columns = columns("news", "severity", "rule", "where", "found")
	add := func(word string, list []report.FindingLine) {
		for i := range list {
			l := &list[i]
			p.Rows = append(p.Rows, paper.Row{Cells: []string{word, string(l.Severity), l.Rule, strings.TrimSpace(l.Timecode + " " + l.SongTitle), l.Text}})
		}
	}
	add("NEW", f.New)
	add("gone", f.Gone)
	return p
}

// WriteCSV writes it after RFC 4180, part by part as it is printed.
func (r changeReport) WriteCSV(w io.Writer) error {
	return writeParts(w, "change report", r.Head, r.Printed().Parts)
}
