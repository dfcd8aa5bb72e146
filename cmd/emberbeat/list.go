package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/shows/report/load"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

func listCommand(t *talk) *cobra.Command {
	var (
		pick    choice
		out     string
		celsius float64
	)
	c := &cobra.Command{
		Use:   "list SHOW WHAT",
		Short: "list commands, cues, songs, the rig or any other record",
		Long: `List what a show holds or what its plan commands.

  commands   every command in the order it is played: timecode, what rounding to
             the frame adds, bar, hit, output and value, lead, open time; arm,
             condition and warm-up windows as they go up and down. A hit closes
             its open time after its timecode, and "closes" is the frame nearest
             to that: rules, list and sheets all mean it. Windows of one slot
             that overlap or touch are one
  songs      the running order with length, tempo, lanes and cues
  stock      articles, device types and bank types
  rig        positions, placed effects, groups, banks, devices, wiring,
             circuits, supplies
  circuits   igniter circuits worked out on their outputs: expected ohm, current
             through each igniter, margin over the all-fire current
  kinds      every kind of record; each can be listed by its name: cues, lanes,
             sections, sets, handcues, persons, venues, nights, settings …
  fields     fields KIND: every field that edit can write, its unit and words`,
		Example: `  emberbeat list tour commands --song 1 --bars 1-8
  emberbeat list tour commands --sort position --arm down
  emberbeat list tour cues --song 2
  emberbeat list tour rig
  emberbeat list tour fields article
  emberbeat list tour commands --json`,
		ValidArgsFunction: words(nil, listWords, kindNames),
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 && args[1] == "fields" {
				return takes("SHOW", "fields", "KIND")(c, args)
			}
			return takes("SHOW", "WHAT")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			l, err := t.load(args[0])
			if err != nil {
				return err
			}
			var asked *float64
			if c.Flags().Changed("celsius") {
				asked = &celsius
			}
			write, err := t.listing(l.Show, &pick, asked, args[1:])
			if err != nil {
				return err
			}
			return t.writeOut(out, write)
		},
	}
	pick.nightFlag(c)
	pick.songFlag(c)
	pick.barsFlag(c)
	pick.effectFlags(c)
	outFlag(c, &out)
	c.Flags().Float64Var(&celsius, "celsius", 20, "temperature of the cable, for circuits, instead of the rule circuit's")
	return c
}

// tabled is a list that people read as a table and programs as JSON.
type tabled interface{ Table() *wording.Table }

// listing gives the writer of what is asked for.
func (t *talk) listing(s *timeline.Show, pick *choice, celsius *float64, what []string) (func(io.Writer) error, error) {
	p, f, err := pick.planFor(s)
	if err != nil {
		return nil, err
	}
	switch what[0] {
	case "commands":
		return t.commands(p, f)
	case "songs", "song":
		return t.tableOrJSON(report.NewSongList(p)), nil
	case "circuits", "circuit":
		list, err := load.NewCircuitList(s, celsius)
		if err != nil {
			return nil, usage(err)
		}
		if t.json {
			return list.WriteJSON, nil
		}
		return list.WriteText, nil
	case "kinds":
		return t.tableOrJSON(report.NewKindList(s)), nil
	case "fields":
		k := timeline.KindOf(what[1])
		if k == nil {
			return nil, usage(fmt.Errorf("%q is no kind of record; kinds: %s", what[1], strings.Join(kindNames(), ", ")))
		}
		return t.tableOrJSON(report.NewFieldList(k)), nil
	}
	kinds := kindsOf(what[0])
	if kinds == nil {
		return nil, usage(fmt.Errorf("%q cannot be listed; write commands, songs, stock, rig, kinds, fields KIND, or a kind: %s",
			what[0], strings.Join(kindNames(), ", ")))
	}
	return t.records(s, f, kinds), nil
}

func (t *talk) commands(p *timeline.Plan, f report.Filter) (func(io.Writer) error, error) {
	l, err := report.NewCueList(p, f)
	if err != nil {
		return nil, err
	}
	if t.json {
		return l.WriteJSON, nil
	}
	return l.WriteText, nil
}

// textOrJSON writes a result as JSON, or as the text it writes itself.
func (t *talk) textOrJSON(v any, text func(io.Writer) error) func(io.Writer) error {
	if t.json {
		return func(w io.Writer) error { return wording.WriteJSON(w, v) }
	}
	return text
}

func (t *talk) tableOrJSON(l tabled) func(io.Writer) error {
	if t.json {
		return func(w io.Writer) error { return wording.WriteJSON(w, l) }
	}
	return l.Table().Write
}

// kindsOf gives the kinds that a word lists: a part of the show, or one kind.
func kindsOf(word string) []*timeline.Kind {
	var kinds []*timeline.Kind
	for _, k := range timeline.Kinds() {
		if word == "stock" && k.Part == timeline.StockPart || word == "rig" && k.Part == timeline.RigPart || k.Name == word || k.Plural == word {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

func kindNames() []string {
	var names []string
	for _, k := range timeline.Kinds() {
		names = append(names, k.Plural)
	}
	return names
}

func (t *talk) records(s *timeline.Show, f report.Filter, kinds []*timeline.Kind) func(io.Writer) error {
	var lists []*report.Records
	for _, k := range kinds {
		lists = append(lists, report.NewRecords(s, k, f))
	}
	if t.json {
		return func(w io.Writer) error { return report.WriteRecords(w, lists...) }
	}
	return func(w io.Writer) error { return writeTables(w, lists) }
}

func writeTables(w io.Writer, lists []*report.Records) error {
	for i, l := range lists {
		if len(lists) > 1 {
			if i > 0 {
				fmt.Fprintln(w)
			}
			fmt.Fprintf(w, "%s: %d\n", l.Kind.Plural, l.Len())
		}
		if l.Len() == 0 {
			if len(lists) == 1 {
				fmt.Fprintf(w, "no %s\n", l.Kind.Plural)
			}
			continue
		}
		if err := l.Table().Write(w); err != nil {
			return err
		}
	}
	return nil
}
