package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/timeline"
)

// phrasing is what the phrase verb is asked to do.
type phrasing struct {
	choice
	lane, group, again, name       string
	at, until, every, shape, order string
	open                           string
	level, seed                    int
	dry                            bool
	given                          func(flag string) bool
}

func phraseCommand(t *talk) *cobra.Command {
	ph := &phrasing{}
	c := &cobra.Command{
		Use:   "phrase SHOW --song S --lane L --at PLACE --until PLACE",
		Short: "run a figure over a group: chase, fan, mirror …",
		Long: `Make the cues of a figure over a group of effects, one step at each division of
the beat from --at to --until, the last place included.

  chase      one after the other      mirror     both ends first, then inwards
  fan        the middle first         alternate  odd ones, then even ones
  burst      all, every time          sustained  all, open from start to end
  random     each once in a shuffled order, then anew; --seed gives another one

The cues are ordinary ones that stay a group. --again runs a phrase anew with
the settings that are given, the others as they were. Where the division is too
fast for the effects to recover in this song, nothing is placed, and the fastest
common division that works is named.`,
		Example: `  emberbeat phrase tour --song 1 --lane "Jet chase" --group jets-all --at 3.1 --until 5.1 --every 1 --shape chase --order left-to-right
  emberbeat phrase tour --song 1 --lane "Jet chase" --group jets-all --at 3.1 --until 4.1 --every 2 --shape mirror --dry-run`,
		Args: takes("SHOW"),
		RunE: func(c *cobra.Command, args []string) error {
			ph.given = c.Flags().Changed
			return t.change(args[0], "phrase", ph.dry, ph.edit)
		},
	}
	f := c.Flags()
	ph.songFlag(c)
	f.StringVar(&ph.lane, "lane", "", "lane, by name or id; made if missing and --group is given")
	f.StringVar(&ph.group, "group", "", "group or placed effect, by name or id (default: the lane's target)")
	f.StringVar(&ph.at, "at", "", "first place: a bar, time or timecode")
	f.StringVar(&ph.until, "until", "", "last place, included")
	f.StringVar(&ph.every, "every", "1", `one step each: 1/2 (of a beat), "1bar", "2 beats", "0.5s"`)
	f.StringVar(&ph.shape, "shape", string(timeline.Chase), "chase, fan, mirror, alternate, burst, sustained, random")
	orderFlag(c, &ph.order)
	f.StringVar(&ph.open, "open", "", "open time in seconds (default: the lane's or article's)")
	f.IntVar(&ph.level, "level", 0, "percent (default: the article's)")
	f.IntVar(&ph.seed, "seed", 0, "which of the random orders")
	f.StringVar(&ph.name, "name", "", "what to call the phrase")
	f.StringVar(&ph.again, "again", "", "run this phrase anew, by its name or id")
	dryRunFlag(c, &ph.dry)
	flagWords(c, "shape", wordsOf(timeline.Shapes())...)
	return c
}

// edit gives the edit that runs the phrase, new or again.
func (ph *phrasing) edit(p *timeline.Plan) (timeline.Edit, error) {
	song, err := ph.songOf(p)
	if err != nil {
		return nil, err
	}
	rec, err := ph.start(p, song)
	if err != nil {
		return nil, err
	}
	for _, s := range ph.settings() {
		if ph.again != "" && !ph.given(s.flag) {
			continue
		}
		if err := ph.write(p, song, &rec, s); err != nil {
			return nil, err
		}
	}
	return p.PhraseOn(song.ID, ph.lane, ph.group, rec, func(kind string, song timeline.ID) timeline.ID { return shows.NewIDFor(p.Show, kind, song) }), nil
}

// start gives the phrase to run again, or a new one.
func (ph *phrasing) start(p *timeline.Plan, song *timeline.Song) (timeline.Phrase, error) {
	if ph.again != "" {
		ref, err := p.FindRecord("phrase:" + string(song.ID) + "/" + ph.again)
		if err != nil {
			return timeline.Phrase{}, err
		}
		return *timeline.KindOf("phrase").Find(p.Show, song.ID, ref.ID).(*timeline.Phrase), nil
	}
	switch {
	case ph.lane == "":
		return timeline.Phrase{}, fmt.Errorf("no lane is chosen; add --lane with its name or id")
	case ph.at == "" || ph.until == "":
		return timeline.Phrase{}, fmt.Errorf("no places are given; add --at and --until with bars such as 17.1 or times such as 1:02.5")
	}
	return *timeline.KindOf("phrase").New(shows.NewIDFor(p.Show, "phrase", song.ID)).(*timeline.Phrase), nil
}

// phraseSetting is one flag and the field it sets.
type phraseSetting struct{ flag, field, text string }

func (ph *phrasing) settings() []phraseSetting {
	open := ph.open
	if open == "" {
		open = "0"
	}
	return []phraseSetting{{"name", "name", ph.name}, {"shape", "shape", ph.shape}, {"order", "order", ph.order}, {"at", "at", ph.at}, {"until", "to", ph.until},
		{"every", "every", ph.every}, {"open", "open", open}, {"level", "level", fmt.Sprint(ph.level)}, {"seed", "seed", fmt.Sprint(ph.seed)}}
}

// write sets one field from its flag: a timecode becomes a place in the song, a
// plain number a part of a beat.
func (ph *phrasing) write(p *timeline.Plan, song *timeline.Song, rec *timeline.Phrase, s phraseSetting) error {
	text := s.text
	switch s.field {
	case "at", "to":
		at, err := timeline.ParsePosition(text)
		if err != nil {
			return fmt.Errorf("--%s: %w", s.flag, err)
		}
		m, err := p.Show.MomentAt(&song.SongHead, at)
		if err != nil {
			return fmt.Errorf("--%s: %w", s.flag, err)
		}
		text = m.String()
	case "every":
		if _, err := timeline.ParseRat(text); err == nil {
			text += " beats"
		}
	}
	return timeline.KindOf("phrase").Field(s.field).Set(rec, timeline.Value{Text: text})
}
