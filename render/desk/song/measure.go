package song

import (
	"time"

	"emberbeat/audio"
	"emberbeat/render/desk/play"
	"emberbeat/render/desk/prefs"
	"emberbeat/render/desk/tapping"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// rowLength is how long ticks are tapped along with at most.
const rowLength = 2 * timeline.Minute

// ofTaps is what the dialog of taps knows of the page.
type ofTaps struct{ sp *Page }

func (o ofTaps) UI() *widget.UI { return o.sp.h.UI() }
func (o ofTaps) Mute() string   { return o.sp.player.Mute() }

func (o ofTaps) Tick(heard bool) {
	p := &o.sp.player
	p.Load(&audio.Silence{Rate: play.DeviceRate, Length: rowLength.Samples(play.DeviceRate)})
	way := play.Way{Length: rowLength}
	for at := tapping.Beat; heard && at < rowLength; at += tapping.Beat {
		way.Ticks = append(way.Ticks, at)
	}
	p.Set(way)
	p.Play(0)
}

func (o ofTaps) Silence() { o.sp.player.Stop(o.sp.h.Now()) }

func (o ofTaps) Ticking() (timeline.Time, bool) {
	if !o.sp.player.Playing() {
		return 0, false
	}
	return o.sp.player.Heard(o.sp.h.Now()) + timeline.Time(o.sp.h.Prefs().DelayMS)*timeline.Millisecond, true
}

func (o ofTaps) Set() (delay, lead, mostDelay, mostLead int) {
	return o.sp.h.Prefs().DelayMS, o.sp.h.Prefs().LeadMS, prefs.MaxDelay, prefs.MaxLead
}

func (o ofTaps) Keep(delay, lead, spread int) {
	p := o.sp.h.Prefs()
	p.DelayMS, p.LeadMS, p.SpreadMS = delay, lead, spread
	o.sp.SetDelay(time.Duration(delay) * time.Millisecond)
	p.Save()
	o.sp.tell("output delay %d ms, tap lead %d ms ± %d ms, as tapped", delay, lead, spread)
	o.sp.h.Log("measured delay=%d lead=%d spread=%d", delay, lead, spread)
}

// askTaps measures how late sound is heard and how late the user taps; nothing else plays till then.
func (sp *Page) askTaps() {
	if sp.player.Playing() {
		if sp.hearing == nil {
			sp.pause()
		}
		sp.Hear()
	}
	sp.measuring = tapping.New(ofTaps{sp})
	sp.h.OpenDialog(func() bool {
		if !sp.measuring.Draw() {
			return false
		}
		sp.measuring = nil
		sp.player.Load(nil)
		sp.LoadSounds()
		return true
	})
}

// measure keeps the picture of the taps moving.
func (sp *Page) measure() {
	if now := sp.h.Now(); sp.measuring.Moves() && now != sp.measured {
		sp.measured = now
		sp.h.Again()
	}
}
