package app

import (
	"fmt"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/desk/play"
	"emberbeat/timeline"
)

// loadSounds begins to read the recording of the song in view, if that has not been done, and hands it to the player once it is there.
func (a *App) loadSounds() {
	w := a.work
	song := w.songInView()
	if song == nil {
		a.player.Load(nil)
		return
	}
	s := w.sounds[song.ID]
	path := w.s.Recording(&song.SongHead)
	if s != nil && s.Path != path {
		s.Stop()
		s = nil
	}
	if s == nil {
		s = a.readSound(song.ID, path)
	}
	if s.Ready && s.PCM != nil && a.player.Loaded() != s.PCM {
		a.player.Load(s.PCM)
		a.tune()
	}
	if !s.Ready && a.player.Loaded() != nil {
		a.player.Load(nil)
	}
}

// readSound starts to read a recording.
func (a *App) readSound(id timeline.ID, path string) *play.Sound {
	w := a.work
	if path == "" {
		s := play.NoSound()
		w.sounds[id] = s
		return s
	}
	a.forgetSounds(id)
	var s *play.Sound
	s = play.LoadSound(path, play.MaxKept, func() { a.post(func() { w.peaksGrew() }) }, func(pcm *audio.PCM, err error) {
		a.post(func() {
			s.Take(pcm, err)
			w.peaksGrew()
			w.checks.asked, w.checks.known = nil, false
			if err != nil {
				a.say("sound failed %v", err)
				return
			}
			a.say("sound ready song=%s", id)
		})
	})
	w.sounds[id] = s
	return s
}

// keptSounds is how many recordings stay in memory.
const keptSounds = 4

// forgetSounds frees the recordings of other songs when there are many.
func (a *App) forgetSounds(keep timeline.ID) {
	w := a.work
	if len(w.sounds) < keptSounds {
		return
	}
	for id, s := range w.sounds {
		if id != keep && id != w.song && s.Err == nil && s.Path != "" {
			s.Stop()
			delete(w.sounds, id)
			return
		}
	}
}

// peaksGrew makes the song be drawn anew.
func (w *work) peaksGrew() { w.grown++ }

// tune hands the transport what the window has set.
func (a *App) tune() {
	if a.work == nil || a.work.data == nil {
		return
	}
	v, song := a.work.view(), a.work.songInView()
	loop := render.Span{}
	if v.looping {
		loop = v.loop
	}
	var beats *timeline.BeatMap
	if a.click {
		beats = song.Beats
	}
	a.player.Set(loop.From, loop.To, a.half, beats, song.Duration())
}

func (a *App) playPause() {
	if a.player.Playing() {
		a.pause()
		return
	}
	a.until = 0
	a.playFrom(a.work.view().playhead)
}

// playFrom plays from a song time, if there is sound to play.
func (a *App) playFrom(at timeline.Time) {
	s := a.work.sounds[a.work.song]
	switch {
	case s == nil || !s.Ready:
		a.tell("the recording is still being read")
		return
	case s.Err != nil:
		a.fail(s.Err)
		return
	case s.PCM == nil && s.Path == "":
		a.tell("the song has no recording: add one in the inspector, or drop a file")
		return
	case s.PCM == nil:
		a.tell("the recording is longer than an hour: it is drawn and planned to, but not played")
		return
	}
	v := a.work.view()
	if whole := a.work.data.Length(); at >= whole {
		at = 0
	}
	if v.looping && v.loop.To > v.loop.From && at >= v.loop.To {
		at = v.loop.From
	}
	a.begin, a.loose = at, false
	v.playhead = at
	a.tune()
	a.player.Play(at)
	why := a.player.Mute()
	if why != "" && !a.toldSilent {
		a.toldSilent = true
		a.tell("%s: the playhead runs without sound", why)
	}
	a.say("playing at=%s silent=%v", at, why != "")
}

// pause stops where the ear is.
func (a *App) pause() {
	at := a.heard()
	a.player.Stop(a.now)
	a.work.view().playhead = at
	a.say("paused at=%s", at)
}

// heard gives the song time that is heard, or the playhead where nothing plays.
func (a *App) heard() timeline.Time {
	if a.work == nil || a.work.data == nil {
		return 0
	}
	if a.player.Playing() {
		return min(max(a.player.Heard(a.now), 0), a.work.data.Length())
	}
	return a.work.view().playhead
}

// sayHeard tells which song time is drawn as heard at which moment of the computer's clock, for comparing it with the sound.
func (a *App) sayHeard(at timeline.Time) {
	if a.o.Debug != nil { // asked first: the words would be garbage while playing
		a.say("heard at=%s clock=%d", at, a.now.UnixNano())
	}
}

func (a *App) stop() {
	a.player.Stop(a.now)
	a.seek(a.begin)
	a.say("stopped at=%s", a.begin)
}

// stopAtEnd ends a play of a selection, and leaves the playhead where a song ended.
func (a *App) stopAtEnd() {
	switch {
	case a.player.Playing():
		a.stopAt = true
		if a.until > 0 && a.heard() >= a.until {
			a.until = 0
			a.player.Stop(a.now)
			a.work.view().playhead = a.begin
			a.again = true
		}
		a.page1()
	case a.stopAt:
		a.stopAt = false
		a.again = true
	}
}

// page1 pages along while the song plays, where follow is on and not suspended.
func (a *App) page1() {
	if !a.follow || a.loose || a.gesture != nil {
		return
	}
	v, whole := a.work.view(), a.work.data.Whole()
	now, at := v.shown(whole), a.heard()
	if at >= now.From && at < now.To-(now.To-now.From)/20 || now.To >= whole.To && at >= now.From {
		return
	}
	length := now.To - now.From
	v.set(whole, at-length/10, length)
	a.again = true
}

func (a *App) playSelection() {
	span, _ := a.selectedSpan()
	a.playFrom(max(span.From-2*timeline.Second, 0))
	a.until = span.To + timeline.Second
}

// selectedSpan gives the stretch from the first to the end of the last selected cue.
func (a *App) selectedSpan() (render.Span, bool) {
	var span render.Span
	found := false
	sel := a.work.view().selected
	for i := range a.work.data.Lanes {
		for _, c := range a.work.data.Lanes[i].Cues {
			if !sel[c.Cue.ID] {
				continue
			}
			if !found {
				span = render.Span{From: c.Hit, To: c.Hit}
			}
			found = true
			span.From, span.To = min(span.From, c.Hit), max(span.To, c.Hit, min(c.End, a.work.data.Length()))
		}
	}
	return span, found
}

// seek moves the playhead, and the sound with it.
func (a *App) seek(at timeline.Time) {
	at = min(max(at, a.work.data.Whole().From), a.work.data.Length())
	a.work.view().playhead = at
	if a.player.Playing() {
		a.player.Play(at)
	}
	a.again = true
}

func (a *App) toggleLoop() {
	v := a.work.view()
	if v.loop.To <= v.loop.From {
		a.loopSelection()
		return
	}
	v.looping = !v.looping
	a.tune()
	a.say("loop %v", v.looping)
}

func (a *App) loopSelection() {
	span, ok := a.selectedSpan()
	if !ok || span.To <= span.From {
		a.tell("there is no loop yet: set its start with %s and its end with %s", a.key("loop-start"), a.key("loop-end"))
		return
	}
	v := a.work.view()
	if beats := a.work.songInView().Beats; !beats.Empty() {
		first, last := beats.Locate(span.From).Bar, beats.Locate(span.To).Bar
		span = render.Span{From: beats.BarStart(first), To: beats.BarStart(last + 1)}
	}
	v.loop, v.looping = span, true
	a.tune()
}

func (a *App) loopEdge(end bool) {
	v, at := a.work.view(), a.heard()
	if end {
		v.loop.To = at
	} else {
		v.loop.From = at
		if v.loop.To <= at {
			v.loop.To = a.work.data.Length()
		}
	}
	v.looping = v.loop.To > v.loop.From
	a.tune()
	a.tell("loop %s to %s", v.loop.From.Clock(1), v.loop.To.Clock(1))
}

func (a *App) toggleClick() {
	if a.click = !a.click; a.click && a.work.songInView().Beats.Empty() {
		a.tell("the song has no beat map: there is no beat to click on")
	}
	a.tune()
}

func (a *App) toggleHalf() {
	a.half = !a.half
	a.tune()
}

func (a *App) muteLane() { a.work.preview(&a.work.muted) }
func (a *App) soloLane() { a.work.preview(&a.work.solo) }

// preview flips the lane in focus in a set of lanes.
func (w *work) preview(set *map[timeline.ID]bool) {
	if *set == nil {
		*set = map[timeline.ID]bool{}
	}
	id := w.view().focus
	(*set)[id] = !(*set)[id]
}

// previewed reports whether the stage preview shows a lane.
func (w *work) previewed(lane timeline.ID) bool {
	for _, on := range w.solo {
		if on {
			return w.solo[lane]
		}
	}
	return !w.muted[lane]
}

func (a *App) soundState() string {
	s := a.work.sounds[a.work.song]
	switch {
	case s == nil:
		return ""
	case s.Err != nil:
		return s.Err.Error() + "; the show is safe. Find it with “Find missing audio…”"
	case !s.Ready:
		if part, ok := s.Part(); ok {
			return fmt.Sprintf("reading the recording, %.0f %%", 100*part)
		}
		return "reading the recording"
	case s.Path == "":
		return "no recording: drop an audio file here"
	}
	return ""
}
