package rule

import (
	"slices"

	"emberbeat/timeline"
)

// Facts is what a rule needs to know and a Plan cannot say, found out by
// somebody who may look at files.
type Facts struct {
	// Audio says what became of each song's recording, by song id. Nil means
	// that nobody looked; a song that is missing from it was not looked at.
	Audio map[timeline.ID]AudioFact
	// Today is the day on which the plan is checked, yyyy-mm-dd. "" means that
	// nobody said: then no deadline is compared with it.
	Today string
	// Lost holds findings from reading the show folder, such as lines that
	// could not be understood. They are passed on with the others.
	Lost []Finding
}

// For gives what is known of a plan. Of a night as it was played that is nothing of
// the recordings: they are not kept, and those of now are not what was played.
func (f Facts) For(p *timeline.Plan) Facts {
	if p.AsPlayed {
		f.Audio = nil
	}
	return f
}

// AudioFact is what became of one recording.
type AudioFact struct {
	State  AudioState
	Detail string // what was found, in words for the user
	// Timecode is what was found on channels of the recording. Nil also where
	// nobody has looked.
	Timecode []TimecodeFact
}

// Same reports whether two facts say the same.
func (f AudioFact) Same(o AudioFact) bool {
	return f.State == o.State && f.Detail == o.Detail && slices.Equal(f.Timecode, o.Timecode)
}

// TimecodeFact is timecode on a channel of a recording.
type TimecodeFact struct {
	Channel int // counted from 1
	Rate    timeline.Rate
	First   timeline.Timecode // the first label
}

// AudioState says whether a song's recording is what the show was made to.
type AudioState string

// The audio states.
const (
	AudioPresent AudioState = "present" // there, and the same as before
	AudioMissing AudioState = "missing" // no such file
	AudioChanged AudioState = "changed" // there, but its samples differ
	AudioUnread  AudioState = "unread"  // there, but it cannot be read
)
