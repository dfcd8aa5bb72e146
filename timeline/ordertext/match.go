package ordertext

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"emberbeat/timeline"
)

// Match says how a line of a running order was found to mean a song.
type Match string

// The matches.
const (
	Named   Match = "named"   // by its very name
	Alike   Match = "alike"   // by a name that is nearly its own, and like no other's: told
	Told    Match = "told"    // somebody has chosen the song
	Skipped Match = "skipped" // somebody has said that it is no song
	Doubt   Match = "doubt"   // nobody knows: a choice
)

// Matched is a line of a running order with the song that it means.
type Matched struct {
	Line
	Match  Match
	Song   timeline.ID
	Why    string        // of a doubt, or of what is told
	Offers []timeline.ID // of a doubt: songs that it may mean, the likeliest first
}

// Choice says what a line of a running order means: a song, or none.
type Choice struct {
	N    int
	Song timeline.ID // "" = it is no song
}

// How alike a text and a name must be, from 0 to 1, to be taken, and to be offered; and
// how much less alike every other song must be. Judgements: one letter in five may be
// wrong where no other name is near.
const (
	alikeEnough = 0.8
	alikeApart  = 0.15
	alikeOffer  = 0.45
)

// MatchLines finds the songs that the lines of a running order mean, of those of the
// show. A doubt is never a song: it has to be chosen. Of a song with several versions
// the word in brackets chooses; without one it is the song itself, unless the set
// plays another version of it now.
func MatchLines(s *timeline.Show, set *timeline.Set, lines []Line, choices ...Choice) ([]Matched, error) {
	m := matcher{show: s, set: set}
	var list []Matched
	for _, l := range lines {
		x := Matched{Line: l}
		if i := slices.IndexFunc(choices, func(c Choice) bool { return c.N == l.N }); i >= 0 {
			x.Match, x.Song = Told, choices[i].Song
			if x.Song == "" {
				x.Match = Skipped
			}
		} else {
			m.match(&x)
		}
		list = append(list, x)
	}
	for _, c := range choices {
		if !slices.ContainsFunc(lines, func(l Line) bool { return l.N == c.N }) {
			return nil, fmt.Errorf("line %d is no line of the running order that could mean a song", c.N)
		}
		if c.Song != "" && s.Song(c.Song) == nil {
			return nil, fmt.Errorf("line %d: song:%s is not in the show", c.N, c.Song)
		}
	}
	m.twice(list)
	return list, nil
}

type matcher struct {
	show *timeline.Show
	set  *timeline.Set
}

// match finds the song of one line.
func (m *matcher) match(x *Matched) {
	type near struct {
		song  *timeline.Song
		score float64
		same  bool
	}
	var all []near
	for _, g := range m.show.SongsByStart() {
		n := near{song: g}
		for _, name := range x.Names {
			for _, called := range []string{g.Title, g.FullTitle(), strings.ReplaceAll(g.Slug, "-", " ")} {
				score := likeness(foldName(name), foldName(called))
				if n.score = max(n.score, score); score == 1 {
					n.same = true
				}
			}
		}
		all = append(all, n)
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(b.score, a.score) })
	for _, n := range all {
		if n.score >= alikeOffer && len(x.Offers) < 6 {
			x.Offers = append(x.Offers, n.song.ID)
		}
	}
	if len(all) == 0 || all[0].score < alikeOffer {
		x.Match, x.Why = Doubt, "no song of the show has such a name"
		return
	}
	best := all[0]
	family := m.show.Versions(best.song.ID)
	next := 0.0
	for _, n := range all {
		if !slices.Contains(family, n.song) && foldName(n.song.Title) != foldName(best.song.Title) {
			next = max(next, n.score)
		}
	}
	switch other := slices.IndexFunc(all, func(n near) bool { return n.same && !slices.Contains(family, n.song) }); {
	case best.same && other >= 0:
		x.Match, x.Why = Doubt, "several songs have that name"
		return
	case best.same:
		x.Match = Named
	case best.score >= alikeEnough && best.score-next >= alikeApart && m.numbersAgree(x.Names, best.song):
		x.Match, x.Why = Alike, "read as "+strconv.Quote(best.song.Title)
	default:
		x.Match, x.Why = Doubt, "like "+strconv.Quote(best.song.FullTitle())+", and not its name"
		return
	}
	m.version(x, family)
}

// numbersAgree reports whether a name differs from a song's in more than its numbers:
// parts I and II of a song are alike, and not the same.
func (m *matcher) numbersAgree(names []string, g *timeline.Song) bool {
	return slices.ContainsFunc(names, func(n string) bool { return numbersIn(n) == numbersIn(g.Title) })
}

func numbersIn(s string) string {
	var list []string
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !isWordRune(r) }) {
		if strings.Trim(w, "0123456789") == "" || strings.Trim(w, "ivx") == "" {
			list = append(list, w)
		}
	}
	return strings.Join(list, " ")
}

// version chooses among the versions of a song that is found.
func (m *matcher) version(x *Matched, family []*timeline.Song) {
	x.Song = family[0].ID
	ids := make([]timeline.ID, len(family))
	for i, g := range family {
		ids[i] = g.ID
	}
	for _, g := range family { // named as a whole: "Ember (live)"
		for _, n := range x.Names {
			if g.Version != "" && foldName(n) == foldName(g.FullTitle()) {
				x.Song = g.ID
				return
			}
		}
	}
	doubt := func(why string) {
		x.Match, x.Song, x.Why, x.Offers = Doubt, "", why, ids
	}
	if word := foldName(x.Word); word != "" && !m.partOfName(x, family) {
		best, score, ties := -1, 0.0, 0
		for i, g := range family {
			if n := likeness(word, foldName(g.Version)); g.Version != "" && n > score {
				best, score, ties = i, n, 0
			} else if g.Version != "" && n == score {
				ties++
			}
		}
		switch {
		case best >= 0 && score == 1:
			x.Song = ids[best]
		case best >= 0 && score >= alikeEnough && ties == 0:
			x.Match, x.Song, x.Why = Alike, ids[best], "read as "+strconv.Quote(family[best].FullTitle())
		default:
			doubt("the song has no version called " + strconv.Quote(x.Word))
		}
		return
	}
	if len(family) == 1 {
		return
	}
	if family[0].Version != "" {
		doubt("the song has several versions, and none is the song itself")
		return
	}
	if m.set != nil {
		for _, e := range m.set.Entries {
			if g := m.show.Song(e.Song); g != nil && e.Song != ids[0] && slices.Contains(ids, e.Song) && !e.Out {
				doubt("the set plays " + strconv.Quote(g.FullTitle()) + " now, and the line names no version")
				return
			}
		}
	}
}

// partOfName reports whether what could be the word for a version is part of the song's
// own title: Lanterns - Part Two.
func (m *matcher) partOfName(x *Matched, family []*timeline.Song) bool {
	return slices.ContainsFunc(x.Names, func(n string) bool {
		f := foldName(n)
		return f == foldName(family[0].Title) && strings.Contains(f, foldName(x.Word))
	})
}

// twice makes a doubt of what two lines mean, where not both say so by name.
func (m *matcher) twice(list []Matched) {
	for i := range list {
		for k := range list[:i] {
			a, b := &list[k], &list[i]
			if a.Song == "" || a.Song != b.Song {
				continue
			}
			for _, x := range []*Matched{a, b} {
				if x.Match == Alike {
					x.Match, x.Why, x.Offers, x.Song = Doubt, fmt.Sprintf("lines %d and %d would be the same song", a.N, b.N), []timeline.ID{x.Song}, ""
					break
				}
			}
		}
	}
}

// foldName makes one of names that are written in several ways: without case, accents,
// marks, and words that are left out at will.
func foldName(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch plain, ok := plainLetters[r]; {
		case ok:
			b.WriteString(plain)
		case unicode.Is(unicode.Mn, r), r == '\'', r == '.':
		case r == '&', r == '+':
			b.WriteString(" and ")
		case isWordRune(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	words := strings.Fields(b.String())
	if len(words) > 1 && (words[0] == "the" || words[0] == "a" || words[0] == "an") {
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// plainLetters are letters with the ones that are written where a keyboard has them not.
var plainLetters = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'đ': "d", 'ð': "d", 'þ': "th", 'ł': "l", 'ı': "i"}
	for plain, list := range map[string]string{"a": "àáâãäåāăą", "c": "çćĉċč", "d": "ď", "e": "èéêëēĕėęě", "g": "ĝğġģ", "h": "ĥħ", "i": "ìíîïĩīĭį", "j": "ĵ", "k": "ķ",
		"l": "ĺļľŀ", "n": "ñńņň", "o": "òóôõöōŏő", "r": "ŕŗř", "s": "śŝşš", "t": "ţťŧ", "u": "ùúûüũūŭůűų", "w": "ŵ", "y": "ýÿŷ", "z": "źżž"} {
		for _, r := range list {
			m[r] = plain
		}
	}
	return m
}()

// likeness says how alike two folded names are, from 0 to 1: by the letters that must be
// changed, put in, left out or exchanged; and for a text that is some of the name's
// words, by how much of the name they are, at most as good as a doubt.
func likeness(a, b string) float64 {
	if a == b {
		return 1
	}
	x, y := []rune(a), []rune(b)
	if len(x) == 0 || len(y) == 0 {
		return 0
	}
	if len(x) > 200 || len(y) > 200 { // no song is called so
		return 0
	}
	score := 1 - float64(editDistance(x, y))/float64(max(len(x), len(y)))
	words := strings.Fields(b)
	if has := strings.Fields(a); len(has) > 0 && len(a) >= 4 && !slices.ContainsFunc(has, func(w string) bool { return !slices.Contains(words, w) }) {
		score = max(score, alikeOffer+0.3*float64(len(a))/float64(len(b)+1))
	}
	return min(score, 0.999)
}

// editDistance counts the letters to change, put in, leave out, or exchange with their
// neighbour.
func editDistance(a, b []rune) int {
	before, last, now := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		for j := 1; j <= len(b); j++ {
			d := last[j-1]
			if a[i-1] != b[j-1] {
				d++
			}
			d = min(d, last[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			now[j] = d
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}

// DoubtError says which lines of a running order have to be chosen.
type DoubtError struct {
	Show  *timeline.Show
	Lines []Matched // in doubt

	Chosen []Choice // what has been chosen of others
}

// Error tells each doubt on a line of its own, with what it may mean.
func (e *DoubtError) Error() string {
	text := "1 line is in doubt"
	if len(e.Lines) != 1 {
		text = fmt.Sprintf("%d lines are in doubt", len(e.Lines))
	}
	text += "; say with {choose} what they mean:"
	for _, l := range e.Lines {
		text += "\n  " + l.Doubt(e.Show)
	}
	return text
}

// Doubt tells a doubt, and how it would be answered.
func (l *Matched) Doubt(s *timeline.Show) string {
	text := fmt.Sprintf("line %d, %s: %s", l.N, strconv.Quote(l.Text), l.Why)
	var offers []string
	for _, id := range l.Offers {
		offers = append(offers, fmt.Sprintf("%d=%s (%s)", l.N, s.Song(id).Slug, s.Song(id).FullTitle()))
	}
	return text + "; " + strings.Join(append(offers, fmt.Sprintf("%d=skip", l.N)), ", ")
}

// Play gives the edit that plays the songs of a running order that was written
// elsewhere, in its order. What the set says of a song, or of the version of it that it
// played, stays with it; songs that are not named stay in the set, left out. Encores are
// those that the text names, where it names any. A doubt is refused with a *DoubtError.
func Play(id timeline.ID, lines []Matched) timeline.Edit {
	return timeline.EditSet(id, func(s *timeline.Show, set *timeline.Set) error {
		e := &DoubtError{Show: s}
		encores := false
		for _, l := range lines {
			switch l.Match {
			case Doubt:
				e.Lines = append(e.Lines, l)
			case Told, Skipped:
				e.Chosen = append(e.Chosen, Choice{l.N, l.Song})
			}
			encores = encores || l.Encore
		}
		if len(e.Lines) > 0 {
			return e
		}
		rest := slices.Clone(set.Entries)
		take := func(song timeline.ID, same func(timeline.Entry) bool) (timeline.Entry, bool) {
			for _, out := range []bool{false, true} {
				if i := slices.IndexFunc(rest, func(e timeline.Entry) bool { return e.Out == out && same(e) }); i >= 0 {
					e := rest[i]
					rest = slices.Delete(rest, i, i+1)
					return e, true
				}
			}
			return timeline.Entry{Song: song}, false
		}
		named := func(song timeline.ID) bool {
			return slices.ContainsFunc(lines, func(l Matched) bool { return l.Song == song })
		}
		var order []timeline.Entry
		moved := map[timeline.ID]timeline.ID{}
		for _, l := range lines {
			if l.Song == "" {
				continue
			}
			entry, known := take(l.Song, func(e timeline.Entry) bool { return e.Song == l.Song })
			if !known {
				entry, known = take(l.Song, func(e timeline.Entry) bool { return !named(e.Song) && s.SameSong(e.Song, l.Song) })
				if known {
					moved[entry.Song] = l.Song
				}
			}
			entry.Song, entry.Out = l.Song, false
			if encores {
				entry.Encore = l.Encore
			}
			order = append(order, entry)
		}
		if len(order) == 0 {
			return &timeline.ValueError{Kind: "set", Field: "entries", Want: "would be empty: the text names no song"}
		}
		alternatives := map[string]int{}
		for _, e := range order {
			alternatives[e.Alt]++
		}
		for i := range order {
			if alternatives[order[i].Alt] > 1 {
				order[i].Alt = "" // both are to be played
			}
		}
		for _, e := range rest {
			e.Out = true
			order = append(order, e)
		}
		set.Entries = order
		for i, f := range set.Refills {
			if to, ok := moved[f.After]; ok {
				set.Refills[i].After = to
			}
		}
		return timeline.PartLonely(s, set)
	})
}
