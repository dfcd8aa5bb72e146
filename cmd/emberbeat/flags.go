package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// The flags that several verbs share are declared here alone, so that they are
// alike everywhere.

// choice is what a verb works on: a show's night, song and bars.
type choice struct {
	night, song, bars string
	families          []string
	articles, effects string // names, with ; between
	units, arm, sort  string
	together          bool
	today             string
}

func (c *choice) nightFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.night, "night", "", "plan for this night: name, folder name, date or id (default: the tour itself)")
}

func (c *choice) todayFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.today, "today", "", "compare deadlines with this day, yyyy-mm-dd (default: with none)")
}

func (c *choice) songFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.song, "song", "", "this song: title, folder, id or number in the running order")
}

func (c *choice) barsFlag(cmd *cobra.Command) {
	cmd.Flags().StringVar(&c.bars, "bars", "", "these bars, such as 17 or 17-24")
}

// effectFlags choose commands by what they do and drive, and sort them.
func (c *choice) effectFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringSliceVar(&c.families, "family", nil, "commands of these families of effects, such as co2-jet,comet")
	f.StringVar(&c.articles, "article", "", "commands of this article, by name or id; several with ; between")
	f.StringVar(&c.effects, "effect", "", "commands of this placed effect, by name or id; several with ; between")
	f.StringVar(&c.units, "unit", "", "commands on this bank or device, by name or id; several with ; between")
	f.StringVar(&c.arm, "arm", "", "commands by their arm slot when they are sent: "+join(report.Arms())+" (has none)")
	f.StringVar(&c.sort, "sort", "", "order of the commands: "+join(report.Orders())+" (default command)")
	f.BoolVar(&c.together, "together", false, "sort the commands of all songs in one list")
	flagWords(cmd, "family", texts(timeline.Families())...)
	flagWords(cmd, "arm", texts(report.Arms())...)
	flagWords(cmd, "sort", texts(report.Orders())...)
}

func (c *choice) effectWords() report.ChoiceWords {
	return report.ChoiceWords{Families: c.families, Articles: names(c.articles), Placed: names(c.effects), Units: names(c.units), Arm: c.arm}
}

// names parts names with ; between them.
func names(text string) []string {
	var list []string
	for _, name := range strings.Split(text, ";") {
		if name = strings.TrimSpace(name); name != "" {
			list = append(list, name)
		}
	}
	return list
}

func texts[S ~string](list []S) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = string(s)
	}
	return out
}

func join[S ~string](list []S) string { return strings.Join(texts(list), ", ") }

func outFlag(cmd *cobra.Command, out *string) {
	cmd.Flags().StringVar(out, "out", "", "write to this file; - is stdout")
}

func dryRunFlag(cmd *cobra.Command, dry *bool) {
	cmd.Flags().BoolVar(dry, "dry-run", false, "only show what would change")
}

// nightOf finds the chosen night; nil is the tour itself.
func (c *choice) nightOf(s *timeline.Show) (*timeline.Night, error) {
	if c.night == "" {
		return nil, nil
	}
	n, err := s.FindNight(c.night)
	return n, usage(err)
}

// songOf finds the chosen song, which must be given.
func (c *choice) songOf(p *timeline.Plan) (*timeline.Song, error) {
	if c.song == "" {
		return nil, hint(usage(fmt.Errorf("no song is chosen")), "add --song with a title, folder, id or number")
	}
	g, err := p.FindSong(c.song)
	return g, usage(err)
}

// filter gives what is chosen for a sheet.
func (c *choice) filter(p *timeline.Plan) (f report.Filter, err error) {
	if c.bars != "" {
		if f.Bars, err = report.ParseBars(c.bars); err != nil {
			return f, usage(err)
		}
	}
	if f.Order, err = report.ParseOrder(c.sort); err != nil {
		return f, usage(err)
	}
	if f.Choice, err = report.NewChoice(p, c.effectWords()); err != nil {
		return f, usage(err)
	}
	f.Together = c.together
	if c.song == "" {
		return f, nil
	}
	song, err := c.songOf(p)
	switch {
	case err != nil:
		return f, err
	case f.Bars != nil && song.Beats.Empty():
		return f, usage(fmt.Errorf("song %q has no beat map, so it has no bars to choose", song.FullTitle()))
	}
	f.Song = song.ID
	return f, nil
}

// planFor compiles the show for the chosen night, as it was played where it is
// over. A chosen song that the running order leaves out is compiled all the same.
func (c *choice) planFor(s *timeline.Show) (*timeline.Plan, report.Filter, error) {
	night, err := c.nightOf(s)
	if err != nil {
		return nil, report.Filter{}, err
	}
	return c.planOf(s.AsPlayed(night))
}

// planOf is planFor for a night that was found.
func (c *choice) planOf(s *timeline.Show, night *timeline.Night) (*timeline.Plan, report.Filter, error) {
	compiler := timeline.NewCompiler()
	p := compiler.Compile(s, night)
	f, err := c.filter(p)
	if err != nil {
		return nil, f, err
	}
	if f.Song != "" && songIn(p, f.Song) == nil {
		p = compiler.CompileSong(s, f.Song, night)
	}
	return p, f, nil
}
