package main

import (
	"fmt"

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
}

func editCommand(t *talk) *cobra.Command {
	e := &editing{}
	c := &cobra.Command{
		Use:   "edit SHOW RECORD key=value…",
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

Where a field names another record, its name will do instead of its id. What
changed is printed record by record; --dry-run only prints, and says which
findings come and go, on the tour or where the record counts (--night chooses),
and for a change of the stock which cues and loads rest on it.`,
		Example: `  emberbeat edit tour show title="Second Leg" pre-roll=5
  emberbeat edit tour song:1 start=03:00:00:00
  emberbeat edit tour --add marker --song 1 name="drums in" at=9.1
  emberbeat edit tour --add article --id side-jet name="Side jet" family=co2-jet lead=0.12 open=0.5 recovery=1
  emberbeat edit tour article:gas-five recovery=2 --dry-run
  emberbeat edit tour set:arena note="second leg" --dry-run`,
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
	e.nightFlag(c)
	dryRunFlag(c, &e.dry)
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
	case e.remove && len(args) > 2:
		return fmt.Errorf("--remove takes the record away whole; it has no use for %q", args[2])
	case e.add == "" && !e.remove && len(args) == 2:
		return fmt.Errorf("edit needs key=value after the RECORD")
	}
	e.args = args[1:]
	return nil
}

// edit gives the edit that is asked for.
func (e *editing) edit(p *timeline.Plan) (timeline.Edit, error) {
	if e.add != "" {
		return e.adding(p)
	}
	ref, err := p.FindRecord(e.args[0])
	if err != nil {
		return nil, err
	}
	if e.remove {
		return func(d *timeline.Draft) error { return d.Remove(ref) }, nil
	}
	list, err := assignments(e.args[1:])
	return p.Assign(ref, list...), err
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
