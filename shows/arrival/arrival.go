package arrival

import (
	"context"
	"fmt"
	"strings"
	"sync"

	"emberbeat/audio/match"
	"emberbeat/shows"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/carry"
)

// Verdict says what a recording is to the show.
type Verdict string

// The verdicts.
const (
	Carries Verdict = "carries" // it is of a song, whose cues can be carried over
	Same    Verdict = "same"    // a song names this very recording
	NoSong  Verdict = "no song" // it is of no song of the show, and can be added as a new one
	Refused Verdict = "refused" // it is of a song, and cannot be carried over as it is
	Unread  Verdict = "unread"  // it cannot be read
)

// Arrival is one recording that arrived.
type Arrival struct {
	File     string
	Verdict  Verdict
	Why      string      // in a sentence without its full stop; "" of what carries
	Song     timeline.ID // "" where it is of no song
	Alike    []Likeness  // to songs of the show, most first; none where the song was named
	Heard    *session.Heard
	Proposal *carry.Proposal    // of what carries
	Starts   []Start            // of timecode that the recording says
	Free     *timeline.Timecode // at which a new song would start

	found  *timeline.TimeMap
	locked []timeline.TimeRun // stretches that the user has placed
	err    error
	side   *match.Side
}

// Err is the error of what is refused or unread.
func (a *Arrival) Err() error { return a.err }

// Likeness is how much a recording is like that of a song.
type Likeness struct {
	Song timeline.ID
	Much float64
}

// Start is where the song starts in timecode as its recording says.
type Start struct {
	From string // the time reference of the file, or a channel
	At   timeline.Timecode
	Rate timeline.Rate // at which it counts
	Is   bool          // the song starts there already
}

// Options are what a user has said.
type Options struct {
	Song     timeline.ID        // the song that all recordings are of; "" finds it by what is heard
	Take     []string           // copies that are taken; see carry.Options
	Locked   []timeline.TimeRun // stretches that the user has placed
	Start    bool               // songs start where their new recordings say
	Progress func(file string, part float64)
}

// Desk works on the recordings of one show. It remembers what it has read.
type Desk struct {
	s     *session.Session
	mu    sync.Mutex // of songs: Old may be asked while recordings are looked at
	songs map[timeline.ID]*known
}

// known is what is known of the recording that a song's cues stand on.
type known struct {
	file  string
	side  *match.Side
	heard *session.Heard
	err   error
}

// At gives a desk for an open show.
func At(s *session.Session) *Desk {
	return &Desk{s: s, songs: map[timeline.ID]*known{}}
}

// refuse says why a recording is not carried over.
func (a *Arrival) refuse(v Verdict, err error) {
	a.Verdict, a.Why, a.err = v, strings.TrimPrefix(err.Error(), a.File+": "), err
}

// edit gives the edit that carries a song over, with its recording at a path in the
// show's folder.
func (a *Arrival) edit(path string) timeline.Edit {
	p := *a.Proposal
	p.Audio.Path = path
	return p.Edit()
}

// Try gives the edit that accepting a recording would make, as if it was in the show's
// folder already; nil for what is not carried over.
func (a *Arrival) Try() timeline.Edit {
	if a.Proposal == nil || a.Verdict != Carries {
		return nil
	}
	return a.edit(shows.AudioDir + "/" + session.FileName(a.File))
}

// Accept carries a song over as one step that undo takes back: it copies the
// recording into the show's folder, and puts everything in its place. A recording of
// no song is added as a new one. It gives the song.
func (d *Desk) Accept(ctx context.Context, a *Arrival) (timeline.ID, error) {
	switch a.Verdict {
	case NoSong:
		return d.s.AddHeard(ctx, a.File, "", a.Heard, *a.Free)
	case Carries:
	default:
		return "", fmt.Errorf("%s: %s", a.File, a.Why)
	}
	_, err := d.s.Bring(ctx, a.File, a.Heard.Ident.FileHash, Label(a), a.edit)
	return a.Song, err
}

// Label is what accepting a recording is called in the journal.
func Label(a *Arrival) string {
	if a.Proposal == nil {
		return "add " + session.FileName(a.File) + " as a new song"
	}
	return "carry " + fmt.Sprintf("%q", a.Proposal.Song.FullTitle()) + " over to " + session.FileName(a.File)
}

// Whole makes of the parts done of each of n recordings, 0 to 1, the part done of
// all, for Options.Progress.
func Whole(n int, step func(float64)) func(file string, part float64) {
	var mu sync.Mutex
	parts := map[string]float64{}
	return func(file string, part float64) {
		mu.Lock()
		defer mu.Unlock()
		parts[file] = part
		sum := 0.0
		for _, p := range parts {
			sum += p
		}
		step(sum / float64(n))
	}
}
