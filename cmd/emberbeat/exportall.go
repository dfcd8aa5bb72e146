package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

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

// exportAll writes every sheet of a night, or of the tour, into a folder.
func (t *talk) exportAll(dir string, e sheetExport) error {
	if err := e.checkAll(t); err != nil {
		return err
	}
	size, err := e.check(t.json)
	if err != nil {
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
	if err := os.MkdirAll(e.out, 0o755); err != nil {
		return fileFailure(fmt.Errorf("%s cannot be made a folder: %w", e.out, err))
	}
	f.Standing = report.StandingOf(p, rule.Facts{}, rule.Check(p, rule.Facts{}))
	var marks []timeline.PrintMark
	for _, o := range sheet.Kinds() {
		if o.Night && p.Night == nil {
			continue
		}
		made, err := o.Make(p, f)
		if err != nil {
			return usage(fmt.Errorf("%s: %w", o.Name, err))
		}
		if made, err = e.underlaid(dir, p, made); err != nil {
			return err
		}
		if err := t.writeOut(filepath.Join(e.out, o.Name+"."+e.format), e.writer(made, size)); err != nil {
			return err
		}
		if e.mark {
			marks = append(marks, sheet.PrintedMark(p, o.Name, made))
		}
	}
	if e.mark {
		if err := t.markPrinted(dir, p, marks); err != nil {
			return err
		}
	}
	return t.openErrors(f.Standing, e.acceptOpen)
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

func (e *sheetExport) checkAll(t *talk) error {
	switch {
	case e.format == "" && t.json:
		e.format = "json"
	case e.format == "":
		e.format = "pdf"
	}
	switch {
	case e.out == "" || e.out == "-":
		return hint(usage(errors.New("no folder is named for the sheets")), "add --out FOLDER; it is made where it is missing")
	case e.pick.song != "" || e.pick.bars != "" || e.pick.chosen():
		return usage(errors.New("all writes whole sheets: leave every choice of songs, bars and effects out"))
	case e.format == "png" || e.format == "svg":
		return usage(fmt.Errorf("a %s holds one page, and sheets have several: write pdf, csv or json", e.format))
	}
	return e.markable()
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
