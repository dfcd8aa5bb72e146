package timeline

// Plan is a show compiled for one night: every command with its time, target,
// value and reason. Whatever is checked, printed, drawn or played comes from a
// Plan. It is not changed once compiled.
type Plan struct {
	Show  *Show
	Night *Night // nil for the tour itself
	Venue *Venue // nil when the night names none
	Set   *Set   // nil when the show has no set: then all songs by timecode
	Rate  Rate
	Units *Units

	AsPlayed bool // the night is over, and the plan is of what was kept of it; see Show.AsPlayed

	Songs []PlanSong // in the order they are played

	Keys    []HandKey       // hand cues by key: on paper, without command times
	KeysOff []HandOff       // hand cues that this plan leaves out
	Refills []PlannedRefill // in the order of the songs they follow
}

// ToldItsOwn gives the plan told in its show's own units; see Show.ToldItsOwn.
func (p *Plan) ToldItsOwn() *Plan {
	own := *p
	own.Show = p.Show.ToldItsOwn()
	return &own
}

// PlanSong is a song's place in the plan.
type PlanSong struct {
	*SongPlan
	Entry  Entry
	Number int  // place in the running order, from 1
	At     Time // start of the audio, from the start of the set's first audio
}

// SongPlan is one song compiled; it is shared between plans as long as nothing
// it depends on has changed. All its times count from the start of the song's
// audio.
type SongPlan struct {
	Song     *Song
	Units    *Units // the rig it was compiled for
	Rate     Rate
	Start    int64 // frame of the start of the audio, from timecode midnight
	StartErr error // the song's start is no label of the rate; Start is then 0
	By       Time  // the night's shift of the whole song
	Duration Time
	PreRoll  Time
	Commands []Command // by exact time, then cue, then placed effect, those that only open with another last
	Uses     []UnitUse // effect commands by unit, in the units' order
	Asked    []Window  // what arm, condition and warm-up cues ask for, by start, then cue, then device
	Windows  []Window  // what their slots do: those of one slot that overlap or touch are one; in the same order
	Lost     []LostCue // cues that lead to no command, with the reason
	Cut      []*Cue    // cues the night cut
	Swapped  int       // commands that play a swapped article
	Disabled int
}

// Command is one thing an output must do so that a hit comes on time. Where the
// output opens several units, each of them has a command of its own.
type Command struct {
	Cue     *Cue
	Lane    *Lane
	Unit    *Unit
	With    *Unit    // the unit that the cue aims at, where Unit only opens with it; else nil
	Article *Article // what the cue asks for, after swaps; of a unit that opens with another what stands there
	Hit     Time     // what the audience sees on the music
	Lead    Time     // article and latency
	At      Time     // exact command time: Hit - Lead
	Frame   int64    // nearest frame to At, from timecode midnight
	Rounded Time     // start of that frame
	Open    Time     // how long the output stays open
	Close   int64    // nearest frame to EndRounded
	Level   int      // percent
}

// Residual is what rounding to a frame adds: the frame's time minus the exact
// time, at most half a frame either way.
func (c *Command) Residual() Time { return c.Rounded - c.At }

// End is the exact time at which the output closes.
func (c *Command) End() Time { return c.At + c.Open }

// Free is the first exact time at which the unit can be commanded again.
func (c *Command) Free() Time { return c.At + c.Open + c.Article.Recovery }

// EndRounded is when the output closes where a list is followed: Open after the
// frame of the command. Close is its frame, and what "closes" means wherever it
// stands.
func (c *Command) EndRounded() Time { return c.Rounded + c.Open }

// FreeRounded is Free after rounding of the command to its frame.
func (c *Command) FreeRounded() Time { return c.EndRounded() + c.Article.Recovery }

// Zone gives when the clear zone of a command must be empty: with the spread of
// its lead, for as long after the hit as the output was open, since what is seen
// follows the output by the lead, and as long as something falls or floats.
func (c *Command) Zone() (from, to Time) {
	from = min(c.At, c.Hit) - c.Article.Spread
	return from, max(c.End(), c.Hit+c.Open, c.Hit+c.Article.Hang) + c.Article.Spread
}

// UnitUse is what a song does with one unit.
type UnitUse struct {
	Unit     *Unit
	Commands []int32 // indices into Commands, by time
}

// LostCue is a cue, or one unit of a cue's target, that leads to no command.
type LostCue struct {
	Cue    *Cue
	Reason LostReason
	Name   string // what is missing
}

// LostReason says why a cue leads to no command.
type LostReason string

// The reasons.
const (
	LostLane    LostReason = "its lane is gone"
	LostTarget  LostReason = "its target is gone"
	LostNobody  LostReason = "its target has no members"
	LostArticle LostReason = "its article is gone"
	LostBeats   LostReason = "it stands on a bar, and the song has no beat map"
	LostSlot    LostReason = "no device it aims at has such a slot"
	LostOut     LostReason = "it is out of tonight's rig"

	LostInVersion LostReason = "its place is not in the recording of this version"
	LostNoMap     LostReason = "it stands at a time, and nothing says where that is in this version"
)

// InVersion reports whether a cue is lost because a version that shares it has no
// place for it. Its own place is then one of the song that lends it.
func (r LostReason) InVersion() bool { return r == LostInVersion || r == LostNoMap }

// Hits gives the hit times of the song's cues in order, one for each cue
// however many units it drives. One whose units are all dark is none.
func (p *SongPlan) Hits() []Time {
	var hits []Time
	seen := make(map[*Cue]bool, len(p.Commands))
	for i := range p.Commands {
		if c := &p.Commands[i]; !seen[c.Cue] && !c.Unit.Dark() {
			seen[c.Cue] = true
			hits = append(hits, c.Hit)
		}
	}
	sortTimes(hits)
	return hits
}

// FrameAt gives the frame nearest to a song time, from timecode midnight.
func (p *SongPlan) FrameAt(t Time) int64 { return p.Rate.Nearest(p.base() + t) }

// TimeOf gives the song time of a frame's start.
func (p *SongPlan) TimeOf(frame int64) Time { return p.Rate.At(frame) - p.base() }

// Label writes the timecode of the frame nearest to a song time.
func (p *SongPlan) Label(t Time) string { return p.Rate.Label(p.FrameAt(t)) }

// base is the time of the start of the audio from timecode midnight.
func (p *SongPlan) base() Time { return p.Rate.At(p.Start) + p.By }

// First and Last are the frames between which the song claims timecode:
// from its pre-roll to its end, the end excluded.
func (p *SongPlan) First() int64 { return p.Rate.Floor(p.base() - p.PreRoll) }

// Last is the first frame after the song's range.
func (p *SongPlan) Last() int64 { return p.Rate.Ceil(p.base() + p.Duration) }
