package song

import (
	"slices"

	"emberbeat/audio"
	"emberbeat/render/desk/page"
	"emberbeat/render/desk/play"
	"emberbeat/timeline"
)

// hearing is stretches of recordings that are heard one after the other, in the place of the song in view.
type hearing struct {
	list  []page.Stretch
	at    int
	begun bool // the one at is heard; else its recording is waited for
}

// keptStretches is how many recordings of stretches stay in memory: an old one and a new one.
const keptStretches = 2

// Hear lets stretches be heard one after the other, none ends them.
func (sp *Page) Hear(list ...page.Stretch) {
	if sp.player.Playing() {
		if sp.hearing == nil {
			sp.pause()
		}
		sp.player.Stop(sp.h.Now())
	}
	if sp.hearing = nil; len(list) > 0 {
		sp.hearing = &hearing{list: list}
		for _, s := range list {
			sp.stretch(s)
		}
	}
	sp.h.Again()
}

// Hearing gives the stretch that is heard now, or waited for, -1 for none.
func (sp *Page) Hearing() int {
	if sp.hearing == nil {
		return -1
	}
	return sp.hearing.at
}

// HearingAt gives the instant of that stretch's recording that is heard; false while it is waited for.
func (sp *Page) HearingAt() (timeline.Time, bool) {
	if sp.hearing == nil || !sp.hearing.begun || !sp.player.Playing() {
		return 0, false
	}
	return sp.player.Heard(sp.h.Now()), true
}

// stretch gives the recording of a stretch, which begins to be read where it is not.
func (sp *Page) stretch(of page.Stretch) *play.Sound {
	i := slices.IndexFunc(sp.stretches, func(s *play.Sound) bool { return s.Path == of.File && slices.Equal(s.Only, of.Only) })
	if i >= 0 {
		return sp.stretches[i]
	}
	var s *play.Sound
	s = play.LoadSound(of.File, of.Only, play.MaxKept, play.Folder(), func() {}, func(pcm *audio.PCM, err error) {
		sp.h.Post(func() { s.Take(pcm, err) })
	})
	if sp.stretches = append(sp.stretches, s); len(sp.stretches) > keptStretches {
		sp.stretches[0].Stop()
		sp.stretches = slices.Delete(sp.stretches, 0, 1)
	}
	return s
}

// hearOn goes on from one stretch to the next.
func (sp *Page) hearOn() {
	h := sp.hearing
	of := h.list[h.at]
	s := sp.stretch(of)
	switch {
	case !s.Ready:
		return
	case s.Err != nil:
		sp.hearing = nil
		sp.h.Fail(s.Err)
		return
	case s.Music() == nil:
		sp.hearing = nil
		sp.tell("%s: it is drawn, but not played", s.Unplayed())
		return
	case !h.begun:
		h.begun = true
		sp.player.Load(s.Music())
		sp.player.Set(play.Way{})
		sp.player.Play(max(of.From, 0))
		sp.h.Log("hearing %d from=%s to=%s", h.at, of.From, of.To)
	case sp.player.Playing() && sp.player.Heard(sp.h.Now()) < of.To:
		return
	case h.at+1 < len(h.list):
		h.at, h.begun = h.at+1, false
	default:
		sp.player.Stop(sp.h.Now())
		sp.hearing = nil
		sp.h.Log("heard all")
	}
	sp.h.Again()
}

// endHearing forgets the stretches and their recordings.
func (sp *Page) endHearing() {
	for _, s := range sp.stretches {
		s.Stop()
	}
	sp.stretches, sp.hearing = nil, nil
}
