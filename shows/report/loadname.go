package report

import (
	"fmt"
	"strings"

	"emberbeat/timeline"
)

// LoadNames gives what the crew calls the placed effect and the article of an
// outcome, and where it stands. What the show has lost keeps its id.
func LoadNames(s *timeline.Show, o timeline.Outcome) (placed, article, position string) {
	if e := s.Rig.PlacedEffect(o.Placed); e != nil {
		position = PositionNamed(s, e.Position)
	}
	return s.CalledBy(o.Placed, "placed"), s.CalledBy(o.Article, "article"), position
}

// OutputName names an outcome's output as it was entered: "bank A output 7".
func OutputName(s *timeline.Show, o timeline.Outcome) string {
	name := s.CalledBy(o.Driver, "bank", "device")
	switch {
	case s.Rig.Bank(o.Driver) != nil:
		return fmt.Sprintf("%s output %d", name, o.Output)
	case s.Rig.Device(o.Driver) != nil:
		return fmt.Sprintf("%s head %d", name, o.Output)
	}
	return o.Where() // lost
}

// MeantWhen says when a hand cue is meant: its song and section, and the
// standby in words.
func MeantWhen(p *timeline.Plan, h *timeline.HandCue, song int) string {
	var parts []string
	if song >= 0 {
		parts = append(parts, songNumbered(&p.Songs[song]))
	} else if g := p.Show.Song(h.Song); g != nil {
		parts = append(parts, g.FullTitle())
	}
	if h.Section != "" {
		parts = append(parts, "section "+sectionName(p.Show.Song(h.Song), h.Section))
	}
	if h.When != "" {
		parts = append(parts, h.When)
	}
	if len(parts) == 0 {
		return "any time of the show"
	}
	return strings.Join(parts, "; ")
}

func songNumbered(ps *timeline.PlanSong) string {
	return fmt.Sprintf("song %d %s", ps.Number, ps.Song.FullTitle())
}

// sectionName gives a section's name where a hand cue names it by its id.
func sectionName(g *timeline.Song, text string) string {
	if g != nil {
		for _, s := range g.Sections {
			if string(s.ID) == text && s.Name != "" {
				return s.Name
			}
		}
	}
	return text
}
