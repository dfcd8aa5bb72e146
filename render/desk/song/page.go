package song

import (
	"fmt"
	"image"
	"time"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/desk/openshow"
	"emberbeat/render/desk/play"
	"emberbeat/render/desk/song/beats"
	"emberbeat/render/desk/tapping"
	"emberbeat/render/widget"
	"emberbeat/timeline"
)

// Page is the song in view with all that is done there: its picture, the stage beside it, what is heard. How a song is looked
// at is part of the open show, and ends with it; what stands here outlives a show.
type Page struct {
	h      Host
	player play.Player
	clip   *clip

	drawn   render.SongDrawer
	scene   *render.Scene // the picture of the song, which is costly and changes seldom
	key     songKey
	serial  int                  // counts new pictures
	cursors render.SongView      // what drawMoving draws, kept to make no garbage
	over    image.Point          // of the pointer, outside where nothing is under it
	snapAt  render.Snap          // of the gesture
	dragged map[timeline.ID]bool // the cue that is held by the pointer; nil for none
	marquee *marquee             // being drawn, nil when none
	menuFor render.Hit           // what the context menu was opened on
	menuAt  render.Instant       // where it was opened by the pointer
	pointed render.Instant       // the same while one of its commands is done

	follow     bool
	loose      bool // follow is suspended by hand
	begin      timeline.Time
	until      timeline.Time // where the play of a selection ends; 0 = nowhere
	click      bool
	speed      speed
	ticks      bool // of cues
	ticked     ticked
	countIn    bool
	silence    *audio.Silence
	measuring  *tapping.Dialog // of taps, while it stands open
	measured   time.Time       // of the frame that last moved it
	stopAt     bool
	toldSilent bool // that there is no sound device

	text  []byte // of the counters
	frame int64  // of the label shown there
	label string
	rate  timeline.Rate

	hits   *render.HeardHits // that are snapped to, of hitsOf
	hitsOf hitsKey

	under int // device pixels of the page that something else lies over

	stageArea image.Rectangle // of the stage, while it is shown
	fromFront

	beats     *beats.Strip
	hearing   *hearing // of stretches in the place of the song; nil for none
	stretches []*play.Sound
}

// New gives a song page that shows nothing yet and plays on what open opens, nil where there is no sound device.
func New(h Host, open play.OpenDevice) *Page {
	sp := &Page{h: h, player: play.NewPlayer(open, time.Duration(h.Prefs().DelayMS)*time.Millisecond), scene: h.UI().Scene().Another(), follow: true}
	sp.beats = beats.New(ofStrip{h, sp})
	sp.view.Previews = func(lane timeline.ID) bool { return sp.work().Previewed(lane) }
	return sp
}

func (sp *Page) work() *openshow.Work { return sp.h.Work() }

func (sp *Page) in() *widget.Input { return sp.h.UI().Input() }

// Close frees the sound device.
func (sp *Page) Close() { sp.player.Close() }

// Leave ends what is heard, before the show is closed.
func (sp *Page) Leave() {
	sp.endHearing()
	sp.beats.Leave()
	sp.player.Load(nil)
	sp.marquee = nil
}

// Scene is the picture of the song.
func (sp *Page) Scene() *render.Scene { return sp.scene }

// Serial changes when the picture does.
func (sp *Page) Serial() int { return sp.serial }

// Drawn says where on that picture what stands.
func (sp *Page) Drawn() *render.SongDrawer { return &sp.drawn }

// Begin begins a frame: the stage is not shown until it is drawn.
func (sp *Page) Begin() { sp.stageArea = image.Rectangle{} }

// Unhover forgets where the pointer was: another page comes into view.
func (sp *Page) Unhover() { sp.over = image.Pt(-1, -1) }

// Tick looks after the sound: the device, the end of a song. It reports whether something moves.
func (sp *Page) Tick() (moving bool) {
	moving, lost := sp.player.Tick(sp.h.Now())
	if lost {
		sp.h.Tell("the sound device is gone; the playhead goes on without sound")
		sp.h.Log("sound lost")
	}
	if sp.measuring != nil {
		sp.measure()
		return moving
	}
	if sp.hearing != nil {
		sp.hearOn()
		return moving
	}
	sp.stopAtEnd()
	return moving
}

// Plays reports whether the song in view plays.
func (sp *Page) Plays() bool {
	return sp.player.Playing() && sp.hearing == nil && sp.measuring == nil
}

// Moving reports whether the song plays, or is just fading.
func (sp *Page) Moving() bool { return sp.player.Moving(sp.h.Now()) }

// Mute says why the playhead runs without sound, "" where it is heard.
func (sp *Page) Mute() string { return sp.player.Mute() }

// SetDelay says how long after the device's buffer the sound is heard.
func (sp *Page) SetDelay(delay time.Duration) { sp.player.SetDelay(delay) }

// GridName names the step of the beat grid.
func (sp *Page) GridName() string { return sp.grid().name }

// Offered gives the commands of the menu that was opened, with rules ("") between them.
func (sp *Page) Offered() []string { return contextItems[sp.menuFor.Kind] }

// IsOn reports whether a command of the page that switches something has it on.
func (sp *Page) IsOn(command string) bool {
	switch command {
	case "beat-strip":
		return sp.beats.Open()
	case "click":
		return sp.click
	case "half-speed":
		return sp.speed == halfSpeed
	case "three-quarter-speed":
		return sp.speed == threeQuarterSpeed
	case "cue-ticks":
		return sp.ticks
	case "count-in":
		return sp.countIn
	case "follow":
		return sp.follow && !sp.loose
	case "stage-large":
		return sp.large
	case "stage-selection":
		return sp.selected
	case "stage-heights":
		return !sp.view.Hide.Heights
	case "stage-reach":
		return !sp.view.Hide.Reach
	case "stage-zones":
		return !sp.view.Hide.Zones
	case "snap-beats", "snap-hits", "snap-both", "snap-strong", "snap-middle", "snap-weak":
		return sp.snapOn(command)
	case "still":
		return sp.h.Prefs().Still
	}
	if sp.work() == nil {
		return false
	}
	v := sp.work().View()
	switch command {
	case "loop":
		return v.Looping
	case "arm-lane":
		return v.Armed != "" && v.Armed == v.Focus
	case "mute":
		return sp.work().Muted[v.Focus]
	case "solo":
		return sp.work().Solo[v.Focus]
	}
	return false
}

// tell puts a sentence into the status bar.
func (sp *Page) tell(format string, args ...any) { sp.h.Tell(fmt.Sprintf(format, args...)) }

// do makes a change as one step.
func (sp *Page) do(c change) bool { return sp.h.Do(c.label, c.edits...) }

// doAs makes one that joins the step before if it has the same key and follows quickly.
func (sp *Page) doAs(key string, c change) bool { return sp.h.DoAs(key, c.label, c.edits...) }

// try shows a change without making it.
func (sp *Page) try(c change) *openshow.Attempt {
	t, err := sp.work().Try(c.label, c.edits...)
	if err != nil {
		sp.h.Warn(err.Error())
	}
	return t
}

// dialog is one that the page opens.
type dialog interface{ draw(sp *Page) (left bool) }

func (sp *Page) open(d dialog) { sp.h.OpenDialog(func() bool { return d.draw(sp) }) }
