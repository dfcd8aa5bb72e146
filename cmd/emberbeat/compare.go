package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/render/sheet"
	"emberbeat/shows/intake"
	"emberbeat/shows/report/held"
	"emberbeat/timeline"
)

// holding is what the compare verb is asked to do.
type holding struct {
	pick                      choice
	page                      pageFlags
	mapping, means, only      []string
	hits, fresh, keep, each   bool
	comma, rate, format, file string
	names                     int
}

func compareCommand(t *talk) *cobra.Command {
	h := &holding{}
	c := &cobra.Command{
		Use:   "compare SHOW LIST",
		Short: "hold a list that the firing desk has exported against the plan",
		Long: `Hold a list that a desk has exported against the plan: which rows are missing in
it or too many, which stand at another frame, on another address or in another
order. Nothing is written into the list, and nothing reaches the desk.

LIST is a table: UTF-8 or UTF-16, columns separated by comma, semicolon, tab or
bar. --map says which column holds what; a column that has the name of a field
needs no --map:

  when       timecode (01:00:42:12), clock (01:00:42.480 from timecode
             midnight), or seconds of a song with song
  where      address (IGN 1:7 or 1.45), or bank and output, or universe and slot
  besides    action, number

An address is a bank by name, id or number and its output, IGN 1:7, or a slot as
universe.slot. --means says what an address or action of the list is called
here: --means "A-07=IGN 1:7", or for many --means "A-{n}=IGN 1:{n}". {n} is any
number, {name} any text. An action is hit, arm up, arm down, condition up,
condition down, heater on, heater off, or left out; without one a row is a hit.

--remember keeps all of this in the show, for the next time. What is said then
counts before it; --fresh reads by the flags alone.

A row is a command of the plan where address and time agree; up to a second off
it is the same at another frame (rule SHOW list-against-plan list-window=2). A
time by which a whole song is off is said once. Worst comes first, three lines
of each kind: --each writes every one.

--format writes it as a sheet, list against plan. The exit code is 1 where
anything differs or could not be read.`,
		Example: `  emberbeat compare tour cues.csv
  emberbeat compare tour desk.csv --map timecode=Time --map address=Pin --means "P{b}-{n}=P{b}:{n}" --remember
  emberbeat compare tour cues.csv --song 1 --format pdf --out list-against-plan.pdf`,
		Args: takes("SHOW", "LIST"),
		RunE: func(_ *cobra.Command, args []string) error { return t.compare(args[0], args[1], h) },
	}
	h.pick.nightFlag(c)
	h.pick.songFlag(c)
	f := c.Flags()
	f.StringArrayVar(&h.mapping, "map", nil, "which column of the list holds what: FIELD=COLUMN, such as timecode=Time; once for each")
	f.StringArrayVar(&h.means, "means", nil, "what an address or action of the list is called here: NAME=OURS; once for each")
	f.StringArrayVar(&h.only, "only", nil, "take only rows of the list where COLUMN=TEXT; once for each")
	f.BoolVar(&h.hits, "hit-times", false, "the list has the times of hits, not of commands")
	f.StringVar(&h.comma, "separator", "", "what parts the columns of the list (default: found in the file)")
	f.IntVar(&h.names, "names-line", 0, "the line of the list with the names of its columns (default: found in the file)")
	f.StringVar(&h.rate, "rate", "", "timecode rate of the list: "+rateNames()+" (default: the show's)")
	f.BoolVar(&h.keep, "remember", false, "keep in the show how the list is read")
	f.BoolVar(&h.fresh, "fresh", false, "read the list by these flags alone, not as the show remembers")
	f.BoolVar(&h.each, "each", false, "each difference on a line of its own")
	f.StringVar(&h.format, "format", "", "write it as a sheet: "+strings.Join(sheet.Formats(), ", ")+" (default: as FILE ends)")
	outFlag(c, &h.file)
	h.page.flags(c)
	flagWords(c, "format", sheet.Formats()...)
	flagWords(c, "rate", rateWords()...)
	return c
}

// said gives what the flags say of the list.
func (h *holding) said() (list []timeline.DeskWord, err error) {
	for _, g := range []struct {
		what  string
		texts []string
	}{{timeline.DeskMap, h.mapping}, {timeline.DeskMeans, h.means}, {timeline.DeskOnly, h.only}} {
		for _, text := range g.texts {
			name, value, ok := strings.Cut(text, "=")
			if name, value = strings.TrimSpace(name), strings.TrimSpace(value); !ok || name == "" || value == "" {
				return nil, fmt.Errorf("--%s %q: write it as NAME=TEXT", g.what, text)
			}
			list = append(list, timeline.DeskWord{What: g.what, Name: name, Text: value})
		}
	}
	alone := func(what, text string) {
		if text != "" {
			list = append(list, timeline.DeskWord{What: what, Text: text})
		}
	}
	if h.hits {
		alone(timeline.DeskTimes, held.TimesOfHits)
	}
	if h.comma == "\t" {
		h.comma = "tab"
	}
	alone(timeline.DeskSeparator, h.comma)
	if h.names != 0 {
		alone(timeline.DeskNamesLine, strconv.Itoa(h.names))
	}
	alone(timeline.DeskRate, h.rate)
	return list, nil
}

func (t *talk) compare(dir, file string, h *holding) error {
	said, err := h.said()
	if err != nil {
		return usage(err)
	}
	s, err := t.open(dir, !h.keep)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	words := said
	if !h.fresh {
		words = held.Over(s.Show().Head.DeskList, said)
	}
	r, err := t.heldReport(s.Show(), file, words, h)
	if err != nil {
		return err
	}
	if h.keep && !slices.Equal(words, s.Show().Head.DeskList) {
		if _, err := t.apply(s, "remember how the desk's list is read", false, timeline.RememberDeskList(words)); err != nil {
			return err
		}
		t.say("the show remembers how this list is read; emberbeat edit SHOW show desk-list= forgets it")
	}
	if err := t.writeHeld(s.Show(), r, h); err != nil {
		return err
	}
	if !r.Same() {
		return errFindings
	}
	return nil
}

// heldReport reads a list and holds it against what is chosen.
func (t *talk) heldReport(show *timeline.Show, file string, words []timeline.DeskWord, h *holding) (*held.Report, error) {
	reading, err := held.NewReading(words)
	if err != nil {
		return nil, usage(err)
	}
	data, err := readAtMost(file, intake.MaxTableBytes)
	if err != nil {
		return nil, fileFailure(err)
	}
	p, f, err := planAt(show, &h.pick, held.RateOf(words))
	if err != nil {
		return nil, err
	}
	r, err := held.Compare(p, f, reading, filepath.Base(file), data)
	switch {
	case errors.Is(err, held.ErrColumns) || is[*intake.NamesError](err):
		return nil, hint(usage(fmt.Errorf("%s: %w", file, err)), "say which column holds what, such as --map timecode=Time --map address=Output")
	case errors.Is(err, held.ErrTable):
		return nil, fileFailure(fmt.Errorf("%s: %w", file, err))
	case err != nil:
		return nil, usage(err)
	}
	return r, nil
}

// writeHeld writes the report as text or JSON, or as a sheet where one is asked for.
func (t *talk) writeHeld(show *timeline.Show, r *held.Report, h *holding) error {
	if ending, err := formatFor("", h.file, "text", []string{"pdf", "png", "svg", "csv"}); h.format != "" || err == nil && ending != "text" {
		e := sheetExport{kind: "list against plan", format: h.format, out: h.file, pick: &h.pick, page: &h.page}
		if err := e.settle(t); err != nil {
			return usage(err)
		}
		return t.writeOut(h.file, e.writer(show, sheet.Held(r)))
	}
	write := r.WriteText
	switch {
	case t.json:
		write = r.WriteJSON
	case h.each:
		write = r.WriteEach
	}
	return t.writeOut(h.file, write)
}
