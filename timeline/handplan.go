package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// HandKey is a hand cue worked out for a plan: what its numbered key stands for
// on the operator's printed plan. It has no command time.
type HandKey struct {
	Cue   *HandCue
	Song  int        // index into Plan.Songs; -1 = any time of the show
	Spans []HandSpan // when it is meant in that song; none without a song
	Uses  []HandUse  // by unit
	Lost  []LostHand
	Cut   int // units that the night cuts
}

// HandSpan is a stretch of a song's time, from the start of its audio.
type HandSpan struct{ From, To Time }

// HandUse is what a key means for one unit.
type HandUse struct {
	Unit    *Unit
	With    *Unit    // the unit that the key aims at, where Unit only opens with it; else nil
	Article *Article // after the night's swaps; of a unit that opens with another what stands there
	Open    Time
	Swapped bool
}

// LostHand is a part of a hand cue that leads to nothing.
type LostHand struct {
	Reason LostReason
	Name   string // what is missing
}

// Reasons why a part of a hand cue leads to nothing; see LostReason.
const (
	LostSection LostReason = "its song has no such section"
	LostAims    LostReason = "it aims at nothing"
)

// HandOff is a hand cue that a plan leaves out, with the reason.
type HandOff struct {
	Cue *HandCue
	Why string
}

// Draw is what one press uses up of the article's medium, in milligrams.
func (u *HandUse) Draw() int64 {
	return milligrams(u.Article.UseEach + u.Article.UseRate*u.Open.Seconds())
}

// Label names a hand cue as sheets print it: `key 7 "walk-on"`.
func (h *HandCue) Label() string {
	key := "no key"
	if h.Key > 0 {
		key = fmt.Sprintf("key %d", h.Key)
	}
	if h.Name == "" {
		return key
	}
	return fmt.Sprintf("%s %q", key, h.Name)
}

// hand works out the show's hand cues for the plan: those of its set and songs,
// by key, then name and id.
func (p *Plan) hand() {
	for _, h := range p.Show.HandCues {
		song, why := p.meant(h)
		if why != "" {
			p.KeysOff = append(p.KeysOff, HandOff{h, why})
			continue
		}
		k := HandKey{Cue: h, Song: song}
		k.spans(p)
		k.aim(p)
		p.Keys = append(p.Keys, k)
	}
	slices.SortStableFunc(p.Keys, func(a, b HandKey) int { return a.Cue.compare(b.Cue) })
	slices.SortStableFunc(p.KeysOff, func(a, b HandOff) int { return a.Cue.compare(b.Cue) })
}

// compare puts what has no key last.
func (h *HandCue) compare(o *HandCue) int {
	return cmp.Or(cmp.Compare(uint(h.Key-1), uint(o.Key-1)), strings.Compare(h.Name, o.Name))
}

// meant finds the song of a plan a hand cue is meant for; why says that it is
// not meant at all.
func (p *Plan) meant(h *HandCue) (song int, why string) {
	if h.Set != "" && (p.Set == nil || p.Set.ID != h.Set) {
		return -1, "it belongs to another running order"
	}
	if h.Song == "" {
		return -1, ""
	}
	song = p.place(h.Song)
	if song < 0 {
		return -1, "its song is not played"
	}
	return song, ""
}

// spans finds when the key is meant: in all sections of the name, or in the
// whole song with its pre-roll.
func (k *HandKey) spans(p *Plan) {
	if k.Song < 0 {
		return
	}
	ps := &p.Songs[k.Song]
	if k.Cue.Section == "" {
		k.Spans = []HandSpan{{-ps.PreRoll, ps.Duration}}
		return
	}
	for _, s := range ps.Song.Sections {
		if from, ok := s.At.In(ps.Song.Beats); ok && (string(s.ID) == k.Cue.Section || strings.EqualFold(s.Name, k.Cue.Section)) {
			k.Spans = append(k.Spans, HandSpan{from, ps.sectionEnd(s, from)})
		}
	}
	slices.SortFunc(k.Spans, func(a, b HandSpan) int { return cmp.Compare(a.From, b.From) })
	if len(k.Spans) == 0 {
		k.Lost = append(k.Lost, LostHand{LostSection, k.Cue.Section})
		k.Spans = []HandSpan{{-ps.PreRoll, ps.Duration}}
	}
}

// sectionEnd is where a section ends: as it says, at the next one, or with the
// song.
func (p *SongPlan) sectionEnd(s *Section, from Time) Time {
	if to, ok := s.To.In(p.Song.Beats); ok && to > from {
		return to
	}
	end := max(from, p.Duration)
	for _, o := range p.Song.Sections {
		if at, ok := o.At.In(p.Song.Beats); ok && at > from {
			end = min(end, at)
		}
	}
	return end
}

// aim resolves the key's targets; a unit that is named twice counts once.
func (k *HandKey) aim(p *Plan) {
	if len(k.Cue.Targets) == 0 {
		k.lose(LostAims, "")
	}
	seen := map[*Unit]bool{}
	for _, id := range k.Cue.Targets {
		units, ok := p.Units.Target(id)
		switch {
		case !ok:
			k.lose(LostTarget, string(id))
		case len(units) == 0:
			k.lose(LostNobody, string(id))
		}
		for _, u := range units {
			if !seen[u] {
				seen[u] = true
				k.use(p, u)
			}
		}
	}
	k.carry()
	slices.SortFunc(k.Uses, func(a, b HandUse) int { return cmp.Compare(a.Unit.Index, b.Unit.Index) })
}

func (k *HandKey) lose(why LostReason, name string) { k.Lost = append(k.Lost, LostHand{why, name}) }

// use adds what the key means for a unit, after the night's cuts and swaps.
func (k *HandKey) use(p *Plan, u *Unit) {
	switch {
	case u.Out && u.LeftOut != "":
		k.Cut++
		return
	case u.Out:
		k.lose(LostOut, u.Name)
		return
	}
	asked := cmp.Or(k.Cue.Article, u.Placed.Article)
	if p.Night.cuts(p.Show.Stock, asked, u.Placed.ID, nil, k.songs(p)...) {
		k.Cut++
		return
	}
	a, swapped := p.Show.Stock.Article(asked), false
	if p.Night != nil {
		for _, s := range p.Night.Swaps {
			if s.Touches(p.Show.Stock, asked, u.Placed.ID, nil, k.songs(p)...) {
				a, swapped = p.Show.Stock.Article(s.To), true
				break
			}
		}
	}
	if a == nil {
		k.lose(LostArticle, string(asked))
		return
	}
	k.Uses = append(k.Uses, HandUse{Unit: u, Article: a, Open: cmp.Or(k.Cue.Open, a.Open), Swapped: swapped})
}

// songs gives the song that the key is meant for, and the version of it that is
// played.
func (k *HandKey) songs(p *Plan) []ID {
	if k.Song < 0 {
		return []ID{k.Cue.Song}
	}
	return []ID{k.Cue.Song, p.Songs[k.Song].Song.ID, p.Songs[k.Song].Entry.Song}
}

// carry adds what opens with the units that the key aims at; see Unit.With.
func (k *HandKey) carry() {
	for _, use := range slices.Clone(k.Uses) {
		for _, u := range use.Unit.With {
			if u.Article == nil || slices.ContainsFunc(k.Uses, func(x HandUse) bool { return x.Unit == u }) {
				continue
			}
			also := HandUse{Unit: u, With: use.Unit, Article: u.Article, Open: use.Open}
			if u.Article.Control == IgniterControl {
				also.Open = u.Article.Open
			}
			k.Uses = append(k.Uses, also)
		}
	}
}

// ByHand adds up what the keys of a plan take from each supply at most, in
// milligrams: presses × use. any is what may be pressed at any time of the
// show, songs what is meant for one song, by its index.
func (p *Plan) ByHand(s *Supply) (any int64, songs []int64) {
	songs = make([]int64, len(p.Songs))
	for i := range p.Keys {
		k := &p.Keys[i]
		var mg int64
		for j := range k.Uses {
			if u := &k.Uses[j]; slices.Contains(s.Feeds, u.Unit.Placed.ID) && s.Holds(u.Article) {
				mg += u.Draw() * int64(k.Cue.Presses)
			}
		}
		if k.Song < 0 {
			any += mg
		} else {
			songs[k.Song] += mg
		}
	}
	return any, songs
}
