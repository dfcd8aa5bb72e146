package changed

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"emberbeat/shows/report"
	"emberbeat/timeline"
)

// MovedCue is a cue whose command comes at another timecode than before: the
// first command of its units, or the start of an arm window.
type MovedCue struct {
	Song string `json:"song"` // id
	Cue  string `json:"cue"`
	Lane string `json:"lane"`
	Bar  string `json:"bar"` // "" without a beat map
	Was  string `json:"was"` // timecode
	Is   string `json:"is"`

	place string // where it stands in its song
}

// NewMoved lists the cues of one song that stand in both plans and are commanded
// at another frame in the second, in its order.
func NewMoved(was, is *timeline.Plan, song timeline.ID) []MovedCue {
	old := map[timeline.ID]int64{}
	for _, c := range firstFrames(was, song) {
		old[c.cue.ID] = c.frame
	}
	var list []MovedCue
	for _, c := range firstFrames(is, song) {
		if before, stood := old[c.cue.ID]; stood && before != c.frame {
			list = append(list, MovedCue{string(song), string(c.cue.ID), c.lane, c.bar, was.Rate.Label(before), is.Rate.Label(c.frame), c.cue.At.String()})
		}
	}
	return list
}

// cueFrame is when a cue is first commanded.
type cueFrame struct {
	cue       *timeline.Cue
	lane, bar string
	frame     int64
}

func firstFrames(p *timeline.Plan, song timeline.ID) []cueFrame {
	var list []cueFrame
	seen := map[*timeline.Cue]bool{}
	add := func(ps *timeline.PlanSong, cue *timeline.Cue, lane *timeline.Lane, frame int64) {
		if seen[cue] {
			return
		}
		seen[cue] = true
		c := cueFrame{cue: cue, lane: p.Show.CalledIn(ps.Song.ID, lane), frame: frame}
		if hit, ok := cue.At.In(ps.Song.Beats); ok {
			c.bar = report.BarOf(ps.Song, hit)
		}
		list = append(list, c)
	}
	for i := range p.Songs {
		ps := &p.Songs[i]
		if ps.Song.ID != song {
			continue
		}
		for k := range ps.Commands {
			add(ps, ps.Commands[k].Cue, ps.Commands[k].Lane, ps.Commands[k].Frame)
		}
		for k := range ps.Asked {
			add(ps, ps.Asked[k].Cue, ps.Asked[k].Lane, ps.Asked[k].UpFrame)
		}
	}
	slices.SortStableFunc(list, func(a, b cueFrame) int { return cmp.Compare(a.frame, b.frame) })
	return list
}

// writeMoved writes what has moved for people; none is nothing.
func writeMoved(out io.Writer, list []MovedCue) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(out, "moved: %s\n", timeline.Counted(len(list), "cue"))
	for _, m := range list {
		bar := ""
		if m.Bar != "" {
			bar = ", bar " + m.Bar
		}
		fmt.Fprintf(out, "  %s → %s: %s%s, cue at %s\n", m.Was, m.Is, m.Lane, bar, m.place)
	}
}
