package main

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"emberbeat/shows/report/wording"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/grid"
)

func gridCommand(t *talk) *cobra.Command {
	var ch choice
	var dry bool
	v := operatedBy("grid")
	v.column, v.also = 20, []string{"readings"}
	actions := append([]verbAction{{name: "readings"}}, v.actions()...)
	c := &cobra.Command{
		Use:   "grid SHOW ACTION … --song S",
		Short: "put the beats of a song right: tempo, bars, metre",
		Long: `Put the beats of a song right where they were heard or typed wrong. Sound never
moves. Where beats are only counted anew, cues keep their instants and are
called otherwise; where beats move, cues go with them, except those that stand
at a time or are locked. --cues says otherwise, --dry-run says which cues move
and by how much.

  readings          lists the grid as it stands and others that may be meant,
                    with how well each sits on the attacks that are heard
` + v.help(),
		Example: `  emberbeat grid tour readings --song 1
  emberbeat grid tour half --song 1 --dry-run
  emberbeat grid tour shift 1/2 --song 1 --dry-run
  emberbeat grid tour bar-one 0:03.5 --song 1 --dry-run
  emberbeat grid tour line 17 0:32.4 --reach after --song 1 --dry-run`,
		Args:              actionArgs(actions),
		ValidArgsFunction: v.complete(),
		RunE: func(c *cobra.Command, args []string) error {
			if args[1] == "readings" {
				return t.readings(c.Context(), args[0], &ch)
			}
			return t.operate(c, v, args, dry, looking{always: true}, ch.onSong)
		},
	}
	ch.songFlag(c)
	v.flags(c)
	dryRunFlag(c, &dry)
	return c
}

// reading is the JSON form of a grid that may be meant: keys only grow.
type reading struct {
	Name    string   `json:"name"`
	Does    string   `json:"does,omitempty"` // the correction that leads to it; none for the grid as it stands
	Percent *int     `json:"percent,omitempty"`
	Moves   string   `json:"moves,omitempty"`
	Stays   string   `json:"stays,omitempty"`
	Beats   []string `json:"beats"`
}

// readings lists the grids that may be meant.
func (t *talk) readings(ctx context.Context, dir string, ch *choice) error {
	s, err := t.open(dir, true)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	g, err := ch.songOf(s.Plan(""))
	if err != nil {
		return err
	}
	step, done := t.progress("listening to " + g.Audio.Path)
	h, err := s.HeardGrid(ctx, &g.SongHead, grid.Locks{}, step)
	done()
	if err != nil {
		return err
	}
	list := []reading{}
	for _, r := range grid.Readings(g.Beats, *h) {
		x := reading{Name: r.Name + ", " + r.Detail, Does: grid.Said(r.Corrections), Beats: anchorTexts(r.Beats)}
		if n, known := r.Fit.Percent(); known {
			x.Percent = &n
		}
		if len(r.Corrections) > 0 {
			made, err := grid.Correct(s.Show(), g.ID, r.Corrections...)
			if err != nil {
				return err
			}
			x.Moves, x.Stays = made.Moving(), made.Remaining()
		}
		list = append(list, x)
	}
	return t.writeOut("", t.textOrJSON(list, func(w io.Writer) error { return writeReadings(w, list) }))
}

func anchorTexts(m *timeline.BeatMap) []string {
	list := []string{}
	for _, a := range m.Anchors() {
		list = append(list, a.String())
	}
	return list
}

// writeReadings lists readings for people.
func writeReadings(w io.Writer, list []reading) error {
	if len(list) == 0 {
		_, err := fmt.Fprintln(w, "no beats are heard: type a tempo, or tap it")
		return err
	}
	table := &wording.Table{Columns: []wording.Column{{Name: "grid"}, {Name: "sits", Right: true}, {Name: "by"}, {Name: "cues"}}}
	for _, r := range list {
		sits, by := "", r.Does
		if r.Percent != nil {
			sits = fmt.Sprintf("%d %%", *r.Percent)
		}
		if by == "" {
			by = "as it stands"
		}
		table.Rows = append(table.Rows, []string{r.Name, sits, by, r.Moves})
	}
	return table.Write(w)
}

// heardIn listens to the recordings of an open show for operations.
func heardIn(ctx context.Context, s *session.Session) func(timeline.ID) (*grid.Heard, error) {
	return func(id timeline.ID) (*grid.Heard, error) {
		g := s.Show().Song(id)
		if g == nil {
			return nil, fmt.Errorf("the show has no song %q", id)
		}
		locks, err := grid.ReadLocks(g.Locks)
		if err != nil {
			return nil, err
		}
		return s.HeardGrid(ctx, &g.SongHead, locks, nil)
	}
}
