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
	song := w.InView()
	if song == nil {
		a.player.Load(nil)
		return
	}
	s := w.Sounds[song.ID]
	path := w.Session.Recording(&song.SongHead)
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
		w.Sounds[id] = s
		return s
	}
	a.forgetSounds(id)
	var s *play.Sound
	s = play.LoadSound(path, play.MaxKept, func() { a.post(func() {}) }, func(pcm *audio.PCM, err error) {
		a.post(func() {
			s.Take(pcm, err)
			w.CheckAgain()
			if err != nil {
				a.say("sound failed %v", err)
				return
			}
			a.say("sound ready song=%s", id)
		})
	})
	w.Sounds[id] = s
	return s
}

// keptSounds is how many recordings stay in memory.
const keptSounds = 4

// forgetSounds frees the recordings of other songs when there are many.
func (a *App) forgetSounds(keep timeline.ID) {
	w := a.work
	if len(w.Sounds) < keptSounds {
		return
	}
	for id, s := range w.Sounds {
		if id != keep && id != w.Song && s.Err == nil && s.Path != "" {
			s.Stop()
			delete(w.Sounds, id)
			return
		}
	}
}

// tune hands the transport what the window has set.
func (a *App) tune() {
	if a.work == nil || a.work.Data == nil {
		return
	}
	v, song := a.work.View(), a.work.InView()
	loop := render.Span{}
	if v.Looping {
		loop = v.Loop
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
	a.playFrom(a.work.View().Playhead)
}

// playFrom plays from a song time, if there is sound to play.
func (a *App) playFrom(at timeline.Time) {
	s := a.work.Sounds[a.work.Song]
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
	v := a.work.View()
	if whole := a.work.Data.Length(); at >= whole {
		at = 0
	}
	if v.Looping && v.Loop.To > v.Loop.From && at >= v.Loop.To {
		at = v.Loop.From
	}
	a.begin, a.loose = at, false
	v.Playhead = at
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
	a.work.View().Playhead = at
	a.say("paused at=%s", at)
}

// heard gives the song time that is heard, or the playhead where nothing plays.
func (a *App) heard() timeline.Time {
	if a.work == nil || a.work.Data == nil {
		return 0
	}
	if a.player.Playing() {
		return min(max(a.player.Heard(a.now), 0), a.work.Data.Length())
	}
	return a.work.View().Playhead
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
			a.work.View().Playhead = a.begin
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
	v, whole := a.work.View(), a.work.Data.Whole()
	now, at := v.Shown(whole), a.heard()
	if at >= now.From && at < now.To-(now.To-now.From)/20 || now.To >= whole.To && at >= now.From {
		return
	}
	length := now.To - now.From
	v.Set(whole, at-length/10, length)
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
	sel := a.work.View().Selected
	for i := range a.work.Data.Lanes {
		for _, c := range a.work.Data.Lanes[i].Cues {
			if !sel[c.Cue.ID] {
				continue
			}
			if !found {
				span = render.Span{From: c.Hit, To: c.Hit}
			}
			found = true
			span.From, span.To = min(span.From, c.Hit), max(span.To, c.Hit, min(c.End, a.work.Data.Length()))
		}
	}
	return span, found
}

// seek moves the playhead, and the sound with it.
func (a *App) seek(at timeline.Time) {
	at = min(max(at, a.work.Data.Whole().From), a.work.Data.Length())
	a.work.View().Playhead = at
	if a.player.Playing() {
		a.player.Play(at)
	}
	a.again = true
}

func (a *App) toggleLoop() {
	v := a.work.View()
	if v.Loop.To <= v.Loop.From {
		a.loopSelection()
		return
	}
	v.Looping = !v.Looping
	a.tune()
	a.say("loop %v", v.Looping)
}

func (a *App) loopSelection() {
	span, ok := a.selectedSpan()
	if !ok || span.To <= span.From {
		a.tell("there is no loop yet: set its start with %s and its end with %s", a.key("loop-start"), a.key("loop-end"))
		return
	}
	v := a.work.View()
	if beats := a.work.InView().Beats; !beats.Empty() {
		first, last := beats.Locate(span.From).Bar, beats.Locate(span.To).Bar
		span = render.Span{From: beats.BarStart(first), To: beats.BarStart(last + 1)}
	}
	v.Loop, v.Looping = span, true
	a.tune()
}

func (a *App) loopEdge(end bool) {
	v, at := a.work.View(), a.heard()
	if end {
		v.Loop.To = at
	} else {
		v.Loop.From = at
		if v.Loop.To <= at {
			v.Loop.To = a.work.Data.Length()
		}
	}
	v.Looping = v.Loop.To > v.Loop.From
	a.tune()
	a.tell("loop %s to %s", v.Loop.From.Clock(1), v.Loop.To.Clock(1))
}

func (a *App) toggleClick() {
	if a.click = !a.click; a.click && a.work.InView().Beats.Empty() {
		a.tell("the song has no beat map: there is no beat to click on")
	}
	a.tune()
}

func (a *App) toggleHalf() {
	a.half = !a.half
	a.tune()
}

func (a *App) muteLane() { a.work.Preview(&a.work.Muted) }
func (a *App) soloLane() { a.work.Preview(&a.work.Solo) }

func (a *App) soundState() string {
	s := a.work.Sounds[a.work.Song]
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
