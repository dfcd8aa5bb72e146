package changed

import (
	"cmp"
	"fmt"
	"strings"

	"emberbeat/timeline"
)

// songs says what has changed in every song: its record first, then its cues,
// then what else lives in it.
func (d *Diff) songs(a, b *timeline.Show, cs timeline.Changes) {
	d.records(a, b, cs, "song")
	for _, after := range b.SongsByStart() {
		before := a.Song(after.ID)
		if before == nil {
			before = &timeline.Song{SongHead: after.SongHead}
		}
		if words := append(cueWords(before, after), innerWords(after.ID, cs)...); len(words) > 0 {
			d.say("song %q: %s", after.FullTitle(), strings.Join(words, ", "))
		}
	}
}

// cueChanges counts what has become of the cues of a song, each once: a cue
// that has moved counts as moved, whatever else has changed.
type cueChanges struct {
	moved, aimed, article, other, added, removed int
	by                                           timeline.Time // how far the first moved one has moved
	alike                                        bool          // all have moved as far
}

func cueWords(before, after *timeline.Song) []string {
	n := cueChanges{alike: true}
	for _, c := range after.Cues {
		if old := before.Cue(c.ID); old == nil {
			n.added++
		} else {
			n.count(before, after, old, c)
		}
	}
	for _, c := range before.Cues {
		if after.Cue(c.ID) == nil {
			n.removed++
		}
	}
	return n.words()
}

func (n *cueChanges) count(before, after *timeline.Song, old, c *timeline.Cue) {
	was, known := old.At.In(before.Beats)
	is, still := c.At.In(after.Beats)
	switch {
	case was != is || known != still || old.At != c.At:
		if n.moved == 0 {
			n.by = is - was
		}
		n.alike = n.alike && known && still && is-was == n.by
		n.moved++
	case aim(before, old) != aim(after, c):
		n.aimed++
	case plays(before, old) != plays(after, c):
		n.article++
	case !timeline.KindOf("cue").Equal(old, c):
		n.other++
	}
}

// aim and plays give what a cue is aimed at and plays, through its lane.
func aim(s *timeline.Song, c *timeline.Cue) timeline.ID {
	if l := s.Lane(c.Lane); l != nil {
		return cmp.Or(c.Target, l.Target)
	}
	return c.Target
}

func plays(s *timeline.Song, c *timeline.Cue) timeline.ID {
	if l := s.Lane(c.Lane); l != nil {
		return cmp.Or(c.Article, l.Article)
	}
	return c.Article
}

func (n *cueChanges) words() []string {
	var words []string
	say := func(count int, what string) {
		if count > 0 {
			words = append(words, timeline.Counted(count, "cue")+" "+what)
		}
	}
	moved := "moved"
	switch {
	case n.moved > 0 && n.alike && n.by != 0:
		moved = "moved by " + signed(n.by) + " s"
	case n.moved > 0 && n.alike:
		moved = "placed otherwise at the same time"
	}
	say(n.moved, moved)
	say(n.aimed, "aimed elsewhere")
	say(n.article, "with another article")
	say(n.other, "changed otherwise")
	say(n.removed, "removed")
	say(n.added, "added")
	return words
}

func signed(t timeline.Time) string {
	if t > 0 {
		return "+" + t.String()
	}
	return t.String()
}

// innerWords counts the changes of lanes, sections and whatever else lives in a
// song beside its cues.
func innerWords(song timeline.ID, cs timeline.Changes) []string {
	var words []string
	for _, k := range timeline.Kinds() {
		if !k.InSong || k.Name == "cue" {
			continue
		}
		n := [3]int{}
		for _, c := range cs {
			if c.Ref.Kind == k.Name && c.Ref.Song == song {
				switch {
				case c.Before == nil:
					n[2]++
				case c.After == nil:
					n[1]++
				default:
					n[0]++
				}
			}
		}
		for i, what := range []string{"changed", "removed", "added"} {
			if n[i] > 0 {
				words = append(words, fmt.Sprintf("%s %s", timeline.Counted(n[i], k.Name), what))
			}
		}
	}
	return words
}
