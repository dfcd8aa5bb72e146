package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/render/sheet"
	"emberbeat/shows/picture"
	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

// pageFlags say how a sheet is printed.
type pageFlags struct {
	paper string
	page  int
	bom   bool
}

func (g *pageFlags) flags(c *cobra.Command) {
	c.Flags().StringVar(&g.paper, "paper", "", "of pdf, png, svg and xlsx: "+strings.Join(paperWords(), " or ")+" (default: as the show's units)")
	c.Flags().IntVar(&g.page, "page", 1, "which page a png or svg shows")
	c.Flags().BoolVar(&g.bom, "bom", true, "begin CSV files with a byte order mark, as spreadsheets want it")
	flagWords(c, "paper", paperWords()...)
}

func paperWords() []string {
	var words []string
	for _, z := range paper.Sizes() {
		words = append(words, z.Name)
	}
	return words
}

// sheetWords lists the sheets that can be printed.
func sheetWords() []string {
	var words []string
	for _, o := range sheet.Forms() {
		words = append(words, o.Name)
	}
	return words
}

// sheetHelp says of each sheet what stands on it, for lines of 80 characters.
func sheetHelp() string {
	var b strings.Builder
	for _, o := range sheet.Forms() {
		fmt.Fprintf(&b, "  %s\n", o.Name)
		for _, line := range wrapped(o.Help, 78-13) {
			fmt.Fprintf(&b, "             %s\n", line)
		}
	}
	return b.String()
}

// wrapped breaks a text between words into lines of at most so many characters.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > width {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	return append(lines, line)
}

// formatFor gives the format of a file: what --format says, else what its name ends
// with, else the usual one. A name that ends as another of the formats than the
// one asked for is an error, and so is one that says none where none is usual.
func formatFor(said, name, usual string, formats []string) (string, error) {
	ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(name)), ".")
	switch known := slices.Contains(formats, ending); {
	case known && said != "" && said != ending && slices.Contains(formats, said):
		return "", fmt.Errorf("--format %s and the name %s ask for two formats; leave --format out, or let the name end with .%s", said, name, said)
	case said != "":
		return said, nil
	case known:
		return ending, nil
	case usual == "":
		return "", fmt.Errorf("the name %s does not say the format; let it end with one of %s", name, strings.Join(formats, ", "))
	}
	return usual, nil
}

// rewireFile writes the rewire sheet between two plans into a file, in the format
// that its name ends with.
func (t *talk) rewireFile(name string, was, is *timeline.Plan) error {
	if name == "" {
		return nil
	}
	format, err := formatFor("", name, "", sheet.Formats())
	if err != nil {
		return usage(fmt.Errorf("the rewire sheet: %w", err))
	}
	w, i := *was, *is
	w.Show, i.Show = sheet.Told(was.Show, format), sheet.Told(is.Show, format)
	made := sheet.Rewiring(load.NewRewireSheet(&w, &i))
	return t.writeOut(name, func(out io.Writer) error { return sheet.WriteFile(out, made, format, sheet.PaperOf(is.Show), 1) })
}

func rewireFlag(c *cobra.Command, name *string) {
	c.Flags().StringVar(name, "rewire", "", "write the rewire sheet to this file: pdf, csv, json, xlsx, png or svg by its name")
}

// sheetExport is what the export verb is asked to write for people to read.
type sheetExport struct {
	kind, format, rate, out string
	pick                    *choice
	page                    *pageFlags
	mark, acceptOpen        bool
	picture                 bool // the venue's picture lies under the stage plan
}

// underlaid puts the picture of the plan's venue under the stage plan of a sheet that
// has one.
func (e *sheetExport) underlaid(dir string, p *timeline.Plan, made sheet.Sheet) (sheet.Sheet, error) {
	if !e.picture {
		return made, nil
	}
	if p.Venue == nil || p.Venue.Picture.File == "" {
		return nil, hint(usage(errors.New("--plan-picture: the venue of this plan has no picture, or no night is chosen")), "emberbeat venue SHOW picture FILE lays one under the stage plan")
	}
	m, err := picture.Load(dir, p.Venue.Picture)
	if err != nil {
		return nil, fileFailure(err)
	}
	under, has := sheet.Underlaid(made, render.NewUnderlay(m, p.Venue.Picture))
	if !has && e.kind != allSheets {
		return nil, usage(fmt.Errorf("--plan-picture: %s has no stage plan; permit-pack has one", e.kind))
	}
	return under, nil
}

func (t *talk) exportSheet(dir string, e sheetExport, of sheet.Kind) error {
	if err := e.settle(t); err != nil {
		return usage(err)
	}
	if err := e.markable(); err != nil {
		return err
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
	made, err := of.Make(p, f)
	switch {
	case err != nil && of.Night && p.Night == nil:
		return hint(usage(err), "add --night with its name, folder name, date or id")
	case err != nil:
		return usage(err)
	}
	if made, err = e.underlaid(dir, p, made); err != nil {
		return err
	}
	if err := t.writeOut(e.out, e.writer(p.Show, made)); err != nil {
		return err
	}
	if e.mark {
		if err := t.markPrinted(dir, p, []timeline.PrintMark{sheet.PrintedMark(p, of.Name, made)}); err != nil {
			return err
		}
	}
	return t.openErrors(f.Standing, e.acceptOpen)
}

// settle chooses the format where it is not said, and checks it and the paper.
func (e *sheetExport) settle(t *talk) (err error) {
	usual := "csv"
	if t.json {
		usual = "json"
	}
	if e.format, err = formatFor(e.format, e.out, usual, sheet.Formats()); err != nil {
		return err
	}
	return e.check(t)
}

// check refuses what does not go together; what is opened from then on is told as
// the sheet tells it.
func (e *sheetExport) check(t *talk) error {
	if e.page.paper != "" {
		if _, err := paper.SizeNamed(e.page.paper); err != nil {
			return err
		}
	}
	switch {
	case !slices.Contains(sheet.Formats(), e.format):
		return fmt.Errorf("%s has no format %q; write %s", e.kind, e.format, strings.Join(sheet.Formats(), ", "))
	case t.json && e.format != "json":
		return fmt.Errorf("--json and %s ask for two formats; leave --json out", e.format)
	case e.page.page < 1:
		return errors.New("pages are counted from 1")
	case e.out == "" && slices.Contains([]string{"pdf", "png", "svg", "xlsx"}, e.format):
		return hint(fmt.Errorf("no file is named for the %s", e.format), "add --out FILE."+e.format+"; --out - writes it to stdout")
	}
	t.sheet = e.format
	return nil
}

// writer writes a sheet that was made of a show.
func (e *sheetExport) writer(s *timeline.Show, made sheet.Sheet) func(io.Writer) error {
	return func(w io.Writer) error {
		write := sheet.WriteFile
		if e.out == "" || e.out == "-" || !e.page.bom {
			write = sheet.Write
		}
		size, err := sheet.PaperNamed(s, e.page.paper)
		if err != nil {
			return usage(err)
		}
		err = write(w, made, e.format, size, e.page.page)
		if e.format == "png" || e.format == "svg" {
			return usage(err) // the page that was asked for may not be there
		}
		return err
	}
}
