package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
)

// editing is what the edit verb is asked to do.
type editing struct {
	choice
	add, id     string
	remove, dry bool
	args        []string // after SHOW
	cues        timeline.CueChoice
}

// allCues is the word for the cues that the flags choose.
const allCues = "cues"

func editCommand(t *talk) *cobra.Command {
	e := &editing{}
	c := &cobra.Command{
		Use:   "edit SHOW RECORD… key=value…",
		Short: "change, add or remove any record",
		Long: `Change any field of any record, add a record, or remove one.

RECORD is kind:id or kind:name; for what lives in a song kind:song/id. The show
itself is show. Names are found without regard to case; a cue also by where it
stands. emberbeat list SHOW kinds and emberbeat list SHOW fields KIND say what
there is.

  key=value     sets a field; a list takes its items separated by ; an item
                that holds one stands in double quotes
  key+=item     adds an item to a list
  key-=item     takes it away again

Several RECORDs are changed alike, as one step. The word cues in the place of
RECORD means all that --song, --bars, --section, --lane, --family, --article,
--effect, --position and --note choose together; arm and condition windows only
where their --lane is named.

Where a field names another record, its name will do instead of its id. What
changed is printed record by record; --dry-run only prints, and says which
findings come and go, on the tour or where the record counts (--night chooses),
and for a change of the stock which cues and loads rest on it.`,
		Example: `  emberbeat edit tour show title="Second Leg" pre-roll=5
  emberbeat edit tour song:1 start=03:00:00:00
  emberbeat edit tour --add marker --song 1 name="drums in" at=9.1
  emberbeat edit tour --add article --id side-jet name="Side jet" family=co2-jet lead=0.12 open=0.5 recovery=1
  emberbeat edit tour article:gas-five recovery=2 --dry-run
  emberbeat edit tour set:arena note="second leg" --dry-run
  emberbeat edit tour cues open=0.8 --song 1 --family co2-jet --dry-run`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			if err := e.read(args); err != nil {
				return hint(usage(err), "emberbeat edit --help shows how")
			}
			return t.changeLooking(c.Context(), args[0], "edit", e.dry, looking{night: e.night}, func(s *session.Session) (timeline.Edit, error) { return e.edit(s.Plan("")) })
		},
	}
	c.Flags().StringVar(&e.add, "add", "", "add a record of this kind")
	c.Flags().StringVar(&e.id, "id", "", "id of the added record (default: a random one)")
	c.Flags().BoolVar(&e.remove, "remove", false, "remove the record")
	e.songFlag(c)
	e.barsFlag(c)
	f := c.Flags()
	f.StringVar(&e.cues.Section, "section", "", "cues in the sections of this name")
	f.StringVar(&e.cues.Lane, "lane", "", "cues of this lane, by name or id")
	f.StringVar(&e.cues.Family, "family", "", "cues that play this family of effects, such as co2-jet")
	f.StringVar(&e.cues.Article, "article", "", "cues that play this article, by name or id")
	f.StringVar(&e.cues.Effect, "effect", "", "cues that aim at this placed effect, by name or id")
	f.StringVar(&e.cues.Position, "position", "", "cues that play at this position, by name or id")
	f.StringVar(&e.cues.Note, "note", "", "cues with this text in their note")
	e.nightFlag(c)
	dryRunFlag(c, &e.dry)
	flagWords(c, "family", texts(timeline.Families())...)
	flagWords(c, "add", kindNames()...)
	return c
}

// read checks that the arguments fit what is asked for.
func (e *editing) read(args []string) error {
	switch {
	case len(args) == 0:
		return fmt.Errorf("edit needs SHOW and a RECORD")
	case e.add != "" && e.remove:
		return fmt.Errorf("--add and --remove exclude each other")
	case e.add == "" && e.id != "":
		return fmt.Errorf("--id belongs to --add")
	case e.add == "" && len(args) == 1:
		return fmt.Errorf("edit needs a RECORD such as show, song:1 or article:NAME")
	case e.remove && slices.ContainsFunc(args[1:], isAssignment):
		return fmt.Errorf("--remove takes the record away whole: unexpected argument %q", args[1+slices.IndexFunc(args[1:], isAssignment)])
	case e.add == "" && !e.remove && !slices.ContainsFunc(args[2:], isAssignment):
		return fmt.Errorf("edit needs key=value after the RECORD: write key=value, such as lead=0.12")
	}
	if e.cues != (timeline.CueChoice{}) && !slices.Contains(args, allCues) {
		return fmt.Errorf("--section, --lane, --family, --article, --effect, --position and --note choose cues; write cues in the place of RECORD")
	}
	e.args = args[1:]
	return nil
}

// edit gives the edit that is asked for.
func (e *editing) edit(p *timeline.Plan) (timeline.Edit, error) {
	if e.add != "" {
		return e.adding(p)
	}
	n := 1 + slices.IndexFunc(e.args[1:], isAssignment) // the first is a record, whatever it holds
	if n == 0 {
		n = len(e.args)
	}
	refs, err := e.records(p, e.args[:n])
	if err != nil {
		return nil, err
	}
	list, err := assignments(e.args[n:])
	if err != nil {
		return nil, err
	}
	return func(d *timeline.Draft) error {
		for _, ref := range refs {
			change := p.Assign(ref, list...)
			if e.remove {
				change = func(d *timeline.Draft) error { return d.Remove(ref) }
			}
			if err := change(d); err != nil {
				return err
			}
		}
		return nil
	}, nil
}

// isAssignment tells a change of a field from a record: names of records may
// hold the sign, too, but not after a word that could be a field.
func isAssignment(arg string) bool {
	name, _, ok := strings.Cut(arg, "=")
	name = strings.TrimRight(name, "+-")
	return ok && name != "" && !strings.ContainsAny(name, " :\"/")
}

// records finds what is changed: records by name, or the cues that flags choose.
func (e *editing) records(p *timeline.Plan, words []string) ([]timeline.Ref, error) {
	var refs []timeline.Ref
	for _, word := range words {
		if word == allCues {
			chosen, err := e.chosenCues(p)
			if err != nil {
				return nil, err
			}
			refs = append(refs, chosen...)
			continue
		}
		ref, err := p.FindRecord(word)
		if err != nil {
			return nil, err
		}
		refs = append(refs, ref)
	}
	return refs, nil
}

func (e *editing) chosenCues(p *timeline.Plan) ([]timeline.Ref, error) {
	w := e.cues
	if e.song != "" {
		song, err := e.songOf(p)
		if err != nil {
			return nil, err
		}
		w.Song = song.ID
	}
	if e.bars != "" {
		b, err := timeline.ParseBars(e.bars)
		if err != nil {
			return nil, err
		}
		w.Bars = &b
	}
	return p.ChooseCues(w)
}

func (e *editing) adding(p *timeline.Plan) (timeline.Edit, error) {
	k := timeline.KindOf(e.add)
	if k == nil {
		return nil, fmt.Errorf("%q is no kind of record; emberbeat list SHOW kinds shows them", e.add)
	}
	ref := timeline.Ref{Kind: k.Name, ID: timeline.ID(e.id)}
	if k.InSong {
		song, err := e.songOf(p)
		if err != nil {
			return nil, err
		}
		ref.Song = song.ID
	}
	if ref.ID == "" {
		ref.ID = shows.NewIDFor(p.Show, k.Name, ref.Song)
	}
	list, err := assignments(e.args)
	if err != nil {
		return nil, err
	}
	return p.Add(ref, list...), nil
}

func assignments(args []string) ([]timeline.Assignment, error) {
	var list []timeline.Assignment
	for _, arg := range args {
		a, err := timeline.ParseAssignment(arg)
		if err != nil {
			return nil, err
		}
		list = append(list, a)
	}
	return list, nil
}
