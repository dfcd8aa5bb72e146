package carry

import (
	"cmp"
	"slices"

	"emberbeat/timeline"
)

// Recording is what was heard in a recording.
type Recording struct {
	Beats    *timeline.BeatMap // nil is that no beats were heard
	Sections []Stretch         // in their order
	Hits     []Hit             // in their order
}

// Stretch is a part of a recording, by the name that the ear gave it.
type Stretch struct {
	Name     string
	From, To timeline.Time
}

// Hit is a sound that begins at once, and what it sounds like.
type Hit struct {
	At    timeline.Time
	Label string
}

// Options are what a user has said.
type Options struct {
	Take   []string           // copies that are taken: all, the name of a section, the id of a record
	Locked []timeline.TimeRun // stretches that the user has put where they are
	Audio  timeline.Audio     // the new recording as the song will name it
	Start  *timeline.Timecode // new start of the song in timecode; nil leaves it
	NewID  func(kind string) timeline.ID
}

// Status says how something came to its place on the new recording.
type Status string

// The statuses, worst first.
const (
	Lost    Status = "lost"    // its place is not heard any more; it is set aside
	Check   Status = "check"   // it is placed, and somebody has to look
	Copied  Status = "copied"  // its place is heard more than once now; it is placed at one, and the others are asked about
	Moved   Status = "moved"   // its place stands elsewhere in the order, or is another that was taken
	Matched Status = "matched" // by beats and sounds
	Exact   Status = "exact"   // to the sample
)

// Statuses lists the statuses, worst first.
func Statuses() []Status { return []Status{Lost, Check, Copied, Moved, Matched, Exact} }

// Looked reports whether somebody has to look at what has the status before it
// counts as right.
func (s Status) Looked() bool { return s == Check || s == Copied }

// By says by what a place was found.
type By string

// What a place can be found by, in the order in which it is tried.
const (
	ByOffset By = "offset" // so many seconds from where it stood, as the music does
	ByBeat   By = "beat"   // the same place between the beats
	BySound  By = "sound"  // the same kind of sound close by
	ByPath   By = "path"   // where the map leads
	ByRun    By = "phrase" // its phrase was run again
)

// Place is a place on the new recording.
type Place struct {
	At     timeline.Time   // from the start of the new recording
	Moment timeline.Moment // as the record says it
	Run    int             // index of the run that leads there; -1 where none does
	Sure   int             // per mille
	By     By
}

// Copy is a further place at which the music of a record is heard now.
type Copy struct {
	Place
	Open  timeline.Time // of a window that is on for another time there; 0 as it was
	Taken bool
}

// Item is one thing that stood on the old recording. Anchors of the beat map and
// locks are no records; their Ref has no id.
type Item struct {
	Ref     timeline.Ref
	Was     timeline.Moment // where it stood
	WasAt   timeline.Time   // from the start of the old recording
	Section string          // of the song in which it stood
	Status  Status
	Why     string          // in a sentence without its full stop; "" of what needs no word
	Is      *Place          // nil of what is lost
	Next    *Place          // next best place; nil where there is none
	Open    timeline.Time   // of a window that is on for another time now; 0 as it was
	To      timeline.Moment // of a section, where it says where it ends
	Copies  []Copy
	Said    Word // what the user has said of it

	text     string // of a lock
	proposed *Item  // as it was before anything was said of it
}

// Cue reports whether the item is a cue, hit or window.
func (i *Item) Cue() bool { return i.Ref.Kind == "cue" }

// Show gives the show as it was when this was proposed: all that stood on the old
// recording is in it.
func (p *Proposal) Show() *timeline.Show { return p.show }

// Place gives where it stands in the new recording, or could best: nil where it has no
// place at all.
func (i *Item) Place() *Place {
	if i.Is != nil {
		return i.Is
	}
	return i.Next
}

// Counts say how many cues came how: Sure, Look and Lost are all of them.
type Counts struct {
	Sure, Look, Lost int
	Copies, Taken    int // further places of cues, and those of them that are taken
	By               map[Status]int
}

// New is a stretch of the new recording that the old one has nowhere.
type New struct {
	Stretch
	Bars [2]int // first and last of it; 0 without a beat map
}

// Proposal is what carrying a song over comes to. It holds the song as it was: an
// edit that it gives works on that alone.
type Proposal struct {
	Song     *timeline.Song
	Map      *timeline.TimeMap
	Passages []Passage
	Items    []Item // in the order of kinds, each in that of the old recording
	Beats    *timeline.BeatMap
	Locks    []string
	Heard    bool // the beat map rests on what was heard in the new recording, and nobody has confirmed it
	New      []New
	Audio    timeline.Audio     // the new recording, as the song will name it
	Start    *timeline.Timecode // new start of the song in timecode; nil leaves it
	Notes    []string           // what else is to be known, in sentences without their full stop

	options Options
	show    *timeline.Show
	added   []*timeline.Cue    // of phrases that have more places than before
	phrases []*timeline.Phrase // with their new places
}

// Counts counts the cues.
func (p *Proposal) Counts() Counts {
	c := Counts{By: map[Status]int{}}
	for i := range p.Items {
		x := &p.Items[i]
		if !x.Cue() {
			continue
		}
		c.By[x.Status]++
		switch {
		case x.Status == Lost:
			c.Lost++
		case x.Look():
			c.Look++
		default:
			c.Sure++
		}
		c.Copies += len(x.Copies)
		for _, y := range x.Copies {
			if y.Taken {
				c.Taken++
			}
		}
	}
	return c
}

// WorstFirst gives the items in the order in which somebody looks through them.
func (p *Proposal) WorstFirst() []*Item {
	list := make([]*Item, len(p.Items))
	for i := range p.Items {
		list[i] = &p.Items[i]
	}
	slices.SortStableFunc(list, func(a, b *Item) int {
		return cmp.Or(cmp.Compare(rank(a.Status), rank(b.Status)), cmp.Compare(a.sure(), b.sure()), cmp.Compare(a.WasAt, b.WasAt))
	})
	return list
}

func rank(s Status) int { return slices.Index(Statuses(), s) }

func (i *Item) sure() int {
	if i.Is == nil {
		return 0
	}
	return i.Is.Sure
}
