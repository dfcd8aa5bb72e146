package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/render/paper"
	"emberbeat/shows/sheet"
	"emberbeat/timeline"
)

// pageFlags say how a sheet is printed.
type pageFlags struct {
	paper string
	page  int
}

func (g *pageFlags) flags(c *cobra.Command) {
	c.Flags().StringVar(&g.paper, "paper", paper.A4.Name, "paper of pdf and png: "+strings.Join(paperWords(), " or "))
	c.Flags().IntVar(&g.page, "page", 1, "which page a png shows")
	flagWords(c, "paper", paperWords()...)
}

func paperWords() []string {
	var words []string
	for _, z := range paper.Sizes() {
		words = append(words, z.Name)
	}
	return words
}

// sheetMaker makes a sheet of what a filter shows of a plan.
type sheetMaker func(*timeline.Plan, sheet.Filter) (sheet.Printed, error)

// sheets are those that can be printed.
var sheets = map[string]sheetMaker{
	"cue-list":      func(p *timeline.Plan, f sheet.Filter) (sheet.Printed, error) { return sheet.NewCueList(p, f) },
	"patch-sheet":   func(p *timeline.Plan, _ sheet.Filter) (sheet.Printed, error) { return sheet.NewPatchSheet(p), nil },
	"running-sheet": func(p *timeline.Plan, f sheet.Filter) (sheet.Printed, error) { return sheet.NewRunningSheet(p, f) },
	"load-plan":     func(p *timeline.Plan, f sheet.Filter) (sheet.Printed, error) { return sheet.NewLoadPlan(p, f) },
}

// sheetWords lists them for people.
func sheetWords() []string { return []string{"cue-list", "running-sheet", "load-plan", "patch-sheet"} }

var sheetFormats = []string{"csv", "json", "pdf", "png"}

// sheetExport is what the export verb is asked to write for people to read.
type sheetExport struct {
	kind, format, rate, out string
	pick                    *choice
	page                    *pageFlags
}

func (t *talk) exportSheet(dir string, e sheetExport, of sheetMaker) error {
	switch {
	case e.format == "" && t.json:
		e.format = "json"
	case e.format == "":
		e.format = "csv"
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
	made, err := of(p, f)
	if err != nil {
		return err
	}
	return t.writeOut(e.out, e.writer(made, size))
}

func (e *sheetExport) check(asJSON bool) (paper.Size, error) {
	size, err := paper.SizeNamed(e.page.paper)
	switch {
	case err != nil:
		return size, err
	case !slices.Contains(sheetFormats, e.format):
		return size, fmt.Errorf("%s has no format %q; write %s", e.kind, e.format, strings.Join(sheetFormats, ", "))
	case asJSON && e.format != "json":
		return size, fmt.Errorf("--json and --format %s ask for two formats; leave one out", e.format)
	case e.page.page < 1:
		return size, errors.New("pages are counted from 1")
	case e.out == "" && (e.format == "pdf" || e.format == "png"):
		return size, hint(fmt.Errorf("no file is named for the %s", e.format), "add --out FILE."+e.format+"; --out - writes it to stdout")
	}
	return size, nil
}

func (e *sheetExport) writer(made sheet.Printed, size paper.Size) func(io.Writer) error {
	switch e.format {
	case "json":
		return made.WriteJSON
	case "pdf":
		return func(w io.Writer) error { return sheet.WritePDF(w, made, size) }
	case "png":
		return func(w io.Writer) error { return usage(sheet.WritePage(w, made, size, e.page.page)) }
	}
	return made.WriteCSV
}
