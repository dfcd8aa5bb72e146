package report

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/timeline"
)

// LoadNames gives what the crew calls the placed effect and the article of an
// outcome, and where it stands. What the show has lost keeps its id.
func LoadNames(s *timeline.Show, o timeline.Outcome) (placed, article, position string) {
	placed, article = string(o.Placed), string(o.Article)
	if e := s.Rig.PlacedEffect(o.Placed); e != nil {
		placed = cmp.Or(e.Name, placed)
		if pos := s.Rig.Position(e.Position); pos != nil {
			position = cmp.Or(pos.Name, string(pos.ID))
		}
	}
	if a := s.Stock.Article(o.Article); a != nil {
		article = cmp.Or(a.Name, article)
	}
	return placed, article, position
}

// OutputName names an outcome's output as it was entered: "bank A output 7".
func OutputName(s *timeline.Show, o timeline.Outcome) string {
	if b := s.Rig.Bank(o.Driver); b != nil {
		return fmt.Sprintf("%s output %d", cmp.Or(b.Name, string(b.ID)), o.Output)
	}
	if v := s.Rig.Device(o.Driver); v != nil {
		return fmt.Sprintf("%s head %d", cmp.Or(v.Name, string(v.ID)), o.Output)
	}
	return o.Where()
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
