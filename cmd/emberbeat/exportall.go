package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// allSheets is the word for every sheet there is.
const allSheets = "all"

// markable returns an error where what is written is not the whole sheet as the
// show has it: a mark would compare it with something else.
func (e *sheetExport) markable() error {
	if !e.mark {
		return nil
	}
	c := e.pick
	if c.song != "" || c.bars != "" || e.rate != "" || c.chosen() {
		return usage(errors.New("--mark is for whole sheets as the show has them: leave --rate and every choice of songs, bars and effects out"))
	}
	return nil
}

// exportAll writes every sheet of a night, or of the tour, with the summary in front:
// into a folder, or as one PDF where that is named.
func (t *talk) exportAll(dir string, e sheetExport) error {
	one, err := e.checkAll(t)
	if err != nil {
		return err
	}
	if err := e.check(t); err != nil {
		return usage(err)
	}
	l, err := t.load(dir)
	if err != nil {
		return err
	}
	p, f, err := planAt(l.Show, e.pick, e.rate)
	if err != nil {
		return err
	}
	f.Standing = report.StandingOf(p, rule.Facts{}, rule.Check(p, rule.Facts{}))
	size, err := sheet.PaperNamed(p.Show, e.page.paper)
	if err != nil {
		return usage(err)
	}
	front, all, err := sheet.All(p, f, size, one)
	if err != nil {
		return usage(err)
	}
	for i := range all {
		if all[i].Sheet, err = e.underlaid(dir, p, all[i].Sheet); err != nil {
			return err
		}
	}
	if one {
		err = t.writeOut(e.out, func(w io.Writer) error { return sheet.WriteAll(w, front, all, size) })
	} else {
		err = t.writeFolder(e, p.Show, append([]sheet.Made{front}, all...))
	}
	if err != nil {
		return err
	}
	if e.mark {
		var marks []timeline.PrintMark
		for _, m := range all {
			marks = append(marks, sheet.PrintedMark(p, m.Name, m.Sheet))
		}
		if err := t.markPrinted(dir, p, marks); err != nil {
			return err
		}
	}
	return t.openErrors(f.Standing, e.acceptOpen)
}

// writeFolder writes sheets into a folder, a file each.
func (t *talk) writeFolder(e sheetExport, show *timeline.Show, all []sheet.Made) error {
	if err := os.MkdirAll(e.out, 0o755); err != nil {
		return fileFailure(fmt.Errorf("%s cannot be made a folder: %w", e.out, err))
	}
	for _, m := range all {
		if err := t.writeOut(filepath.Join(e.out, m.Name+"."+e.format), e.writer(show, m.Sheet)); err != nil {
			return err
		}
	}
	return nil
}

// openErrors says which errors were open when sheets were made. They are written
// all the same; the exit code tells whoever made them without looking.
func (t *talk) openErrors(s *report.Standing, accept bool) error {
	if s.Errors == 0 {
		return nil
	}
	t.warn("%s", s.Text())
	if accept {
		return nil
	}
	return errFindings
}

// checkAll settles the format of all sheets, and whether they are one file: a name
// that ends with .pdf and is no folder is that of one PDF.
func (e *sheetExport) checkAll(t *talk) (one bool, err error) {
	info, _ := os.Stat(e.out)
	one = strings.EqualFold(filepath.Ext(e.out), ".pdf") && (info == nil || !info.IsDir())
	switch {
	case one && (t.json || e.format != "" && e.format != "pdf"):
		return one, usage(fmt.Errorf("all sheets in one file are a pdf; leave --format and --json out, or name a folder in place of %s", e.out))
	case e.format == "" && t.json:
		e.format = "json"
	case e.format == "":
		e.format = "pdf"
	}
	switch {
	case e.out == "" || e.out == "-":
		return one, hint(usage(errors.New("no folder is named for the sheets")), "add --out FOLDER; it is made where it is missing. --out FILE.pdf writes all into one file")
	case e.pick.song != "" || e.pick.bars != "" || e.pick.chosen():
		return one, usage(errors.New("all writes whole sheets: leave every choice of songs, bars and effects out"))
	case e.format == "png" || e.format == "svg":
		return one, usage(fmt.Errorf("a %s holds one page, and sheets have several: write pdf, csv, json or xlsx", e.format))
	}
	return one, e.markable()
}

// markPrinted notes sheets of a plan as printed, and warns where one of them
// looked otherwise under the same revision.
func (t *talk) markPrinted(dir string, p *timeline.Plan, marks []timeline.PrintMark) error {
	s, err := t.open(dir, false)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	if text := report.SameRevision(p, marks); text != "" {
		t.warn("%s", text)
	}
	var night timeline.ID
	if p.Night != nil {
		night = p.Night.ID
	}
	if err := s.Do("mark sheets as printed", timeline.MarkPrinted(night, marks)); err != nil {
		return usage(err)
	}
	return t.save(s)
}

// chosen reports whether effects or outputs are chosen, or sorted.
func (c *choice) chosen() bool {
	return len(c.families) > 0 || c.articles+c.effects+c.units+c.arm+c.sort != "" || c.together
}
