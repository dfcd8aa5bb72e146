package song

import (
	"emberbeat/render"
	"emberbeat/render/desk/page"
	"emberbeat/timeline"
)

// mostGain is how much larger the waveform can be drawn, in dB.
const mostGain = 30

// What the switches of a lane do. All but its lock are of the stage preview and of tapping alone: the show knows nothing of them.

// pressSwitch is the primary button going down on a switch of a lane.
func (sp *Page) pressSwitch(kind render.HitKind, lane timeline.ID) {
	w, v := sp.work(), sp.work().View()
	switch kind {
	case render.HitLaneArm:
		sp.arm(lane)
	case render.HitLaneHide:
		w.Preview(&w.Muted, lane)
	case render.HitLaneOnly:
		w.Preview(&w.Solo, lane)
	case render.HitLaneLock:
		v.Focus = lane
		sp.h.Use("lock-lane")
	}
}

// arm has taps go to a lane, whichever has the focus; again, and they follow the focus.
func (sp *Page) arm(lane timeline.ID) {
	v := sp.work().View()
	if v.Armed == lane {
		v.Armed = ""
		return
	}
	v.Armed = lane
}

func (sp *Page) armLane()  { sp.arm(sp.work().View().Focus) }
func (sp *Page) muteLane() { sp.work().Preview(&sp.work().Muted, sp.work().View().Focus) }
func (sp *Page) soloLane() { sp.work().Preview(&sp.work().Solo, sp.work().View().Focus) }

// hideOthers leaves all lanes but the one in focus out of the stage.
func (sp *Page) hideOthers() {
	w := sp.work()
	focus := w.View().Focus
	w.ShowAll()
	for i := range w.Data.Lanes {
		if l := w.Data.Lanes[i].Lane; l != nil && l.ID != focus {
			w.Preview(&w.Muted, l.ID)
		}
	}
}

// lockOthers keeps the cues of all lanes but the one in focus where they are, as one step; unlockAll lets all go.
func (sp *Page) lockOthers() { sp.lockAll(sp.work().View().Focus, true) }
func (sp *Page) unlockAll()  { sp.lockAll("", false) }

func (sp *Page) lockAll(but timeline.ID, locked bool) {
	song := sp.programmed()
	var recs []timeline.Record
	for _, l := range song.Lanes {
		if l.ID != but && l.Locked != locked {
			c := *l
			c.Locked = locked
			recs = append(recs, &c)
		}
	}
	verb := "unlock "
	if locked {
		verb = "lock "
	}
	if len(recs) == 0 {
		sp.tell("there is no lane to %s", verb)
		return
	}
	sp.do(change{verb + timeline.Counted(len(recs), "lane"), []timeline.Edit{page.Put(song.ID, recs...)}})
}

// freeLanes gives the lanes the height that there is for them, after the user gave them one.
func (sp *Page) freeLanes() {
	sp.h.Prefs().Lane = 0
	sp.h.Prefs().Save()
}

// SwitchCommands are what the switches of lanes do to the lane in focus, and to all.
func (sp *Page) SwitchCommands() []page.Command {
	return []page.Command{
		{ID: "arm-lane", Name: "Taps go to this lane", Help: "has taps go to the lane in focus whichever has the focus later; again, and they follow the focus", Group: "Play", Off: sp.needLane, Run: sp.armLane},
		{ID: "mute", Name: "Hide lane in the stage", Help: "leaves the lane out of the stage preview; checks and sheets do not change", Group: "Play", Keys: []string{"Ctrl+U"}, Off: sp.needLane, Run: sp.muteLane},
		{ID: "solo", Name: "Only this lane in the stage", Help: "shows only this lane in the stage preview; checks and sheets do not change", Group: "Play", Keys: []string{"Ctrl+Shift+U"}, Off: sp.needLane, Run: sp.soloLane},
		{ID: "hide-others", Name: "Hide all other lanes in the stage", Help: "leaves all lanes but the one in focus out of the stage preview", Group: "Play", Off: sp.needLane, Run: sp.hideOthers},
		{ID: "show-lanes", Name: "Show all lanes in the stage", Help: "hides no lane in the stage preview, and shows none alone", Group: "Play", Off: sp.NeedSong, Run: func() { sp.work().ShowAll() }},
		{ID: "lock-others", Name: "Lock all other lanes", Help: "keeps all cues of the other lanes where they are", Group: "Cue", Off: sp.needLaneEdit, Run: sp.lockOthers},
		{ID: "unlock-lanes", Name: "Unlock all lanes", Help: "lets the cues of all lanes be moved again", Group: "Cue", Off: sp.needLaneEdit, Run: sp.unlockAll},
		{ID: "stage-hide", Name: "Stage in the dock", Help: "leaves the stage out of the dock, or brings it back", Group: "View", Off: sp.NeedSong, Run: sp.hideStage},
		{ID: "free-lanes", Name: "Lanes as high as fits", Help: "gives lanes the height that there is for them, after Alt and the wheel gave them one", Group: "View", Off: sp.NeedSong, Run: sp.freeLanes},
	}
}
