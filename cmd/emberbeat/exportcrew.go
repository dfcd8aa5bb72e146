package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"emberbeat/render/crewpage"
	"emberbeat/shows/report"
	"emberbeat/shows/report/crew"
)

// crewPage is the word for the page that a crew opens on its phones.
const crewPage = "crew-page"

// crewFlags say what a crew page holds.
type crewFlags struct {
	reader string
	sheets []string
	sound  bool
}

func (g *crewFlags) flags(c *cobra.Command) {
	c.Flags().StringVar(&g.reader, "for", "", "of crew-page: spotters, without explosives, orders, persons")
	c.Flags().StringSliceVar(&g.sheets, "sheets", nil, "of crew-page: these sheets, or all (default: no persons, storage)")
	c.Flags().BoolVar(&g.sound, "sound", false, "of crew-page: with the songs' sound, until 25 MB")
	flagWords(c, "for", crew.Readers()...)
	flagWords(c, "sheets", append(sheetWords(), "all")...)
}

// crewExport is what the export verb is asked to write for phones.
type crewExport struct {
	sheetExport
	crew *crewFlags
}

// check returns an error for flags that a crew page does not have.
func (e *crewExport) check(t *talk) error {
	switch {
	case t.json:
		return errors.New("crew-page has no JSON form; leave --json out")
	case e.format != "" && e.format != "html":
		return fmt.Errorf("crew-page has no format %q; it is HTML", e.format)
	case e.mark:
		return errors.New("--mark is for sheets; a crew page carries its own hash")
	case e.pick.song != "" || e.pick.bars != "" || e.pick.chosen():
		return errors.New("a crew page shows the whole night: leave every choice of songs, bars and effects out")
	case e.out == "" || e.out == "-":
		return hint(errors.New("no file is named for the crew page"), "add --out FILE.html, or a folder")
	}
	return nil
}

func (t *talk) exportCrewPage(ctx context.Context, dir string, e crewExport) error {
	if err := e.check(t); err != nil {
		return usage(err)
	}
	s, err := t.open(dir, true)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: nothing was locked
	p, _, err := planAt(s.Show(), e.pick, e.rate)
	if err != nil {
		return err
	}
	ask := crewpage.AskOf(p)
	ask.Reader, ask.Sheets, ask.Made = e.crew.reader, e.crew.sheets, time.Now().Format(crewpage.MadeForm)
	ask.Recordings, ask.Sound = s, e.crew.sound
	page, err := crewpage.New(ctx, ask)
	if err != nil {
		return usage(err)
	}
	name := e.out
	if info, err := os.Stat(name); err == nil && info.IsDir() {
		name = filepath.Join(name, crewpage.FileName(p.Night, ask))
	}
	if err := t.writeFile(name, page.Write); err != nil {
		return err
	}
	t.say("page %s, with %s", page.Hash, strings.Join(page.Sheets, ", "))
	for _, line := range page.Silent() {
		t.say("%s", line)
	}
	return t.openErrors(report.StandingOf(p, ask.Facts, ask.Found), e.acceptOpen)
}
