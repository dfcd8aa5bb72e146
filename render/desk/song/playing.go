package song

import (
	"fmt"
	"slices"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/desk/play"
	"emberbeat/timeline"
)

// LoadSounds begins to read the recording of the song in view, if that has not been done, and hands it to the player once it is there.
func (sp *Page) LoadSounds() {
	w := sp.work()
	song := w.InView()
	if song == nil {
		sp.player.Load(nil)
		return
	}
	s := w.Sounds[song.ID]
	if s == nil || s.Name != song.Audio.Path || s.Path == "" && s.Name != "" || !slices.Equal(s.Only, song.Audio.Heard) { // else it is not asked for: each time that looks at the folder
		path := w.Session.Recording(&song.SongHead)
		if s != nil && (s.Path != path || !slices.Equal(s.Only, song.Audio.Heard)) {
			s.Stop()
			s = nil
		}
		if s == nil {
			s = sp.readSound(song.ID, path, song.Audio.Heard)
		}
		s.Name = song.Audio.Path
	}
	if sp.hearing != nil || sp.measuring != nil {
		return // the player has what is heard there
	}
	switch music := sp.music(s); {
	case music == nil && sp.player.Loaded() != nil:
		sp.player.Load(nil)
	case music != nil && sp.player.Loaded() != music:
		sp.player.Load(music)
		sp.tune()
	case sp.ticks && (sp.ticked != ticked{w.Data, w.Previews}):
		sp.tune()
	}
}

// music gives what is played of the song in view: its recording, or silence of its length where there is none; nil while it is read.
func (sp *Page) music(s *play.Sound) audio.Music {
	switch {
	case !s.Ready:
		return nil
	case s.Music() != nil:
		return s.Music()
	}
	length := sp.work().Data.Length().Samples(play.DeviceRate)
	if sp.silence == nil || sp.silence.Length != length {
		sp.silence = &audio.Silence{Rate: play.DeviceRate, Length: length}
	}
	return sp.silence
}

// readSound starts to read a recording.
func (sp *Page) readSound(id timeline.ID, path string, only []int) *play.Sound {
	w := sp.work()
	if path == "" {
		s := play.NoSound()
		s.Only = only
		w.Sounds[id] = s
		return s
	}
	sp.forgetSounds(id)
	var s *play.Sound
	s = play.LoadSound(path, only, play.MaxKept, play.Folder(), func() { sp.h.Post(func() {}) }, func(pcm *audio.PCM, err error) {
		sp.h.Post(func() {
			s.Take(pcm, err)
			w.CheckAgain()
			if err != nil {
				sp.h.Log("sound failed %v", err)
				return
			}
			sp.h.Log("sound ready song=%s", id)
			sp.tellTimecode(id, s)
		})
	})
	w.Sounds[id] = s
	return s
}

// tellTimecode says that a recording holds timecode, and what that is good for.
func (sp *Page) tellTimecode(id timeline.ID, s *play.Sound) {
	if len(s.Timecode) == 0 {
		return
	}
	f := s.Timecode[0] // of more than one, the first is enough to look at the rest
	said := f.String()
	if start, ok := f.Start(); ok && sp.needTimecode() == "" {
		said += "; Play, " + takeStart + ", starts the song at " + start.String()
	}
	sp.tell("%s: %s", sp.work().Session.Show().Song(id).FullTitle(), said)
}

// takeStart names the command that starts a song where its recording says.
const takeStart = "Start at the recording's timecode"

// needTimecode says why the song in view cannot start where its recording says, or "".
func (sp *Page) needTimecode() string {
	if why := sp.NeedSongEdit(); why != "" {
		return why
	}
	s := sp.work().Sounds[sp.work().Song]
	switch {
	case s == nil || !s.Ready:
		return "the recording is still being read"
	case len(s.Timecode) == 0:
		return "the recording holds no timecode"
	}
	f := s.Timecode[0]
	if _, ok := f.Start(); !ok {
		return "the recording's timecode runs backwards, or begins before midnight"
	}
	if rate := sp.work().Session.Show().Head.Rate; rate != f.Rate {
		return fmt.Sprintf("the recording counts at %s and the show at %s: set the show's rate, or type the start", f.Rate, rate)
	}
	return ""
}

// takeTimecode starts the song in view where its recording says.
func (sp *Page) takeTimecode() {
	start, _ := sp.work().Sounds[sp.work().Song].Timecode[0].Start()
	id := sp.work().Song
	sp.h.Do(fmt.Sprintf("start at the recording's timecode, %s", start), func(d *timeline.Draft) error {
		head := timeline.KindOf("song").Clone(&d.Show().Song(id).SongHead).(*timeline.SongHead)
		head.Start = start
		d.Put("", head)
		return nil
	})
}

// keptSounds is how many recordings stay in memory.
const keptSounds = 4

// forgetSounds frees the recordings of other songs when there are many.
func (sp *Page) forgetSounds(keep timeline.ID) {
	w := sp.work()
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
func (sp *Page) tune() {
	if sp.work() == nil || sp.work().Data == nil {
		return
	}
	v, song := sp.work().View(), sp.work().InView()
	loop := render.Span{}
	if v.Looping {
		loop = v.Loop
	}
	way := play.Way{From: loop.From, To: loop.To, Num: sp.speed.Num, Den: sp.speed.Den, Length: song.Duration()}
	if sp.click {
		way.Beats = sp.beats.Beats()
	}
	if sp.ticked = (ticked{sp.work().Data, sp.work().Previews}); sp.ticks {
		way.Ticks = sp.cueTicks()
	}
	sp.player.Set(way)
}

// ticked is what the ticks of cues were gathered from.
type ticked struct {
	data  *render.SongData
	shown int
}

// cueTicks gives the hits that tick: of cues that lead to a command, on lanes that the stage shows.
func (sp *Page) cueTicks() []timeline.Time {
	var list []timeline.Time
	for i := range sp.work().Data.Lanes {
		l := &sp.work().Data.Lanes[i]
		if l.Lane == nil || !sp.work().Previewed(l.Lane.ID) {
			continue
		}
		for k := range l.Cues {
			if c := &l.Cues[k]; !c.Window && !c.Dead {
				list = append(list, c.Hit)
			}
		}
	}
	slices.Sort(list)
	return list
}

func (sp *Page) playPause() {
	if sp.hearing != nil {
		sp.Hear()
		sp.LoadSounds()
	}
	if sp.player.Playing() {
		sp.pause()
		return
	}
	sp.until = 0
	sp.playFrom(sp.work().View().Playhead)
}

// playFrom plays from a song time, if there is sound to play.
func (sp *Page) playFrom(at timeline.Time) {
	s := sp.work().Sounds[sp.work().Song]
	if s == nil || !s.Ready {
		sp.tell("the recording is still being read")
		return
	}
	sp.LoadSounds()
	v := sp.work().View()
	if whole := sp.work().Data.Length(); at >= whole {
		at = 0
	}
	if v.Looping && v.Loop.To > v.Loop.From && at >= v.Loop.To {
		at = v.Loop.From
	}
	sp.begin, sp.loose = at, false
	v.Playhead = at
	sp.tune()
	if sp.countIn && sp.countable() {
		sp.player.Count(at, sp.beats.Beats())
	} else {
		sp.player.Play(at)
	}
	why := sp.player.Mute()
	if why != "" && !sp.toldSilent {
		sp.toldSilent = true
		sp.tell("%s: the playhead runs without sound", why)
	}
	if silent := sp.silentWhy(s); silent != "" {
		sp.tell("%s: the playhead runs with the clock", silent)
	}
	sp.h.Log("playing at=%s silent=%v", at, why != "")
}

// silentWhy says why there is no sound in the song itself, "" where there is.
func (sp *Page) silentWhy(s *play.Sound) string {
	switch {
	case s.Unplayed() != "":
		return s.Unplayed()
	case s.Music() != nil:
		return ""
	case s.Err != nil:
		return s.Err.Error()
	}
	return "the song has no recording"
}

// countable reports whether a bar can be counted in, and says so where it cannot.
func (sp *Page) countable() bool {
	if sp.beats.Beats().Empty() {
		sp.tell("the song has no beats: there is no bar to count in")
		return false
	}
	return true
}

// counting reports whether a bar is being counted in.
func (sp *Page) counting() bool { return sp.player.Counting(sp.h.Now()) }

// countAndPlay counts a bar in and plays, once: for tapping.
func (sp *Page) countAndPlay() {
	if sp.player.Playing() {
		sp.pause()
	}
	was := sp.countIn
	sp.countIn, sp.until = true, 0
	sp.playFrom(sp.work().View().Playhead)
	sp.countIn = was
}

// pause stops where the ear is.
func (sp *Page) pause() {
	at := sp.Heard()
	sp.player.Stop(sp.h.Now())
	sp.work().View().Playhead = at
	sp.h.Log("paused at=%s", at)
}

// Heard gives the song time that is heard, or the playhead where nothing plays.
func (sp *Page) Heard() timeline.Time {
	if sp.work() == nil || sp.work().Data == nil {
		return 0
	}
	if sp.Plays() {
		at := sp.player.Heard(sp.h.Now())
		if sp.counting() {
			at = sp.begin // the playhead waits there
		}
		return min(max(at, 0), sp.work().Data.Length())
	}
	return sp.work().View().Playhead
}

// sayHeard tells which song time is drawn as heard at which moment of the computer's clock, for comparing it with the sound.
func (sp *Page) sayHeard(at timeline.Time) {
	if sp.h.Logging() { // asked first: the words would be garbage while playing
		sp.h.Log("heard at=%s clock=%d", at, sp.h.Now().UnixNano())
	}
}

func (sp *Page) stop() {
	sp.player.Stop(sp.h.Now())
	sp.Seek(sp.begin)
	sp.h.Log("stopped at=%s", sp.begin)
}

// stopAtEnd ends a play of a selection, and leaves the playhead where a song ended.
func (sp *Page) stopAtEnd() {
	switch {
	case sp.player.Playing():
		sp.stopAt = true
		if sp.until > 0 && sp.Heard() >= sp.until {
			sp.until = 0
			sp.player.Stop(sp.h.Now())
			sp.work().View().Playhead = sp.begin
			sp.h.Again()
		}
		sp.pageAlong()
	case sp.stopAt:
		sp.stopAt = false
		sp.h.Again()
	}
}

// pageAlong pages along while the song plays, where follow is on and not suspended.
func (sp *Page) pageAlong() {
	if !sp.follow || sp.loose || sp.h.Dragging() {
		return
	}
	v, whole := sp.work().View(), sp.work().Data.Whole()
	now, at := v.Shown(whole), sp.Heard()
	if at >= now.From && at < now.To-(now.To-now.From)/20 || now.To >= whole.To && at >= now.From {
		return
	}
	length := now.To - now.From
	v.Set(whole, at-length/10, length)
	sp.h.Again()
}

func (sp *Page) playSelection() {
	span, _ := sp.selectedSpan()
	sp.playFrom(max(span.From-2*timeline.Second, 0))
	sp.until = span.To + timeline.Second
}

// selectedSpan gives the stretch from the first to the end of the last selected cue.
func (sp *Page) selectedSpan() (render.Span, bool) {
	var span render.Span
	found := false
	sel := sp.work().View().Selected
	for i := range sp.work().Data.Lanes {
		for _, c := range sp.work().Data.Lanes[i].Cues {
			if !sel[c.Cue.ID] {
				continue
			}
			if !found {
				span = render.Span{From: c.Hit, To: c.Hit}
			}
			found = true
			span.From, span.To = min(span.From, c.Hit), max(span.To, c.Hit, min(c.End, sp.work().Data.Length()))
		}
	}
	return span, found
}

// Seek moves the playhead, and the sound with it.
func (sp *Page) Seek(at timeline.Time) {
	at = min(max(at, sp.work().Data.Whole().From), sp.work().Data.Length())
	sp.work().View().Playhead = at
	if sp.player.Playing() {
		sp.player.Play(at)
	}
	sp.h.Again()
}

func (sp *Page) toggleLoop() {
	v := sp.work().View()
	if v.Loop.To <= v.Loop.From {
		sp.loopSelection()
		return
	}
	v.Looping = !v.Looping
	sp.tune()
	sp.h.Log("loop %v", v.Looping)
}

func (sp *Page) loopSelection() {
	span, ok := sp.selectedSpan()
	if !ok || span.To <= span.From {
		sp.tell("there is no loop yet: set its start with %s and its end with %s", sp.h.Key("loop-start"), sp.h.Key("loop-end"))
		return
	}
	v := sp.work().View()
	if beats := sp.work().InView().Beats; !beats.Empty() {
		first, last := beats.Locate(span.From).Bar, beats.Locate(span.To).Bar
		span = render.Span{From: beats.BarStart(first), To: beats.BarStart(last + 1)}
	}
	v.Loop, v.Looping = span, true
	sp.tune()
}

func (sp *Page) loopEdge(end bool) {
	v, at := sp.work().View(), sp.snapped(sp.here())
	if end {
		v.Loop.To = at
		if v.Loop.From >= at {
			v.Loop.From = 0
		}
	} else {
		v.Loop.From = at
		if v.Loop.To <= at {
			v.Loop.To = sp.work().Data.Length()
		}
	}
	v.Looping = v.Loop.To > v.Loop.From
	sp.tune()
	sp.tell("loop %s to %s", v.Loop.From.Clock(1), v.Loop.To.Clock(1))
}

func (sp *Page) toggleClick() {
	if sp.click = !sp.click; sp.click && sp.work().InView().Beats.Empty() {
		sp.tell("the song has no beat map: there is no beat to click on")
	}
	sp.tune()
}

// speed is a part of the song's speed; none is its own.
type speed struct{ Num, Den int }

// Speeds that are played at the song's own pitch.
var (
	halfSpeed         = speed{1, 2}
	threeQuarterSpeed = speed{3, 4}
)

// toggleSpeed plays at a speed, or at the song's own where it does so already.
func (sp *Page) toggleSpeed(to speed) {
	if sp.speed == to {
		to = speed{}
	}
	sp.speed = to
	sp.tune()
}

func (sp *Page) toggleTicks() {
	sp.ticks = !sp.ticks
	sp.tune()
}

func (sp *Page) toggleCountIn() {
	if sp.countIn = !sp.countIn; sp.countIn {
		sp.countable()
	}
}

// SoundState says why the song in view cannot be heard, "" where it can.
func (sp *Page) SoundState() string {
	s := sp.work().Sounds[sp.work().Song]
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
