package rule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline"
)

var _ = enter(Rule{
	Name:     "audio",
	Summary:  "a song's recording is missing, cannot be read, or is not the one its cues were placed against",
	Reason:   "Cues stand on a recording. If it changes, they hit beside the music. The file is compared with the song by its decoded samples; and a song that names another recording than its cues were placed against is told until somebody confirms that they stand right.",
	Scope:    WholeSet,
	Severity: Error,
	set:      checkAudio,
})

var _ = enter(Rule{
	Name:     "no-audio",
	Summary:  "a song has no recording",
	Reason:   "Without a recording nobody can hear whether a cue stands right. A song with a typed length is planned all the same; without one its end is not known.",
	Scope:    InSong,
	Severity: Warning,
	song:     checkNoAudio,
})

var _ = enter(Rule{
	Name:     "timecode-heard",
	Summary:  "a channel of a recording that is to be heard holds timecode",
	Reason:   "Timecode is never played, since whatever hears it would run with it: a channel that holds it stays silent though the song names it. It is looked for where a recording is added, linked or opened, and here where a song names channels.",
	Scope:    WholeSet,
	Severity: Warning,
	set:      checkTimecodeHeard,
})

func checkTimecodeHeard(r *setRun) {
	for i := range r.plan.Songs {
		song := r.song(i).Song
		for _, c := range r.facts.Audio[song.ID].Timecode {
			if !slices.Contains(song.Audio.Heard, c.Channel) {
				continue
			}
			label := c.First.String()
			if frame, err := c.Rate.Frame(c.First); err == nil {
				label = c.Rate.Label(frame)
			}
			f := Finding{Ref: timeline.Ref{Kind: "song", ID: song.ID}}
			f.Text = fmt.Sprintf("channel %d of %s is to be heard and holds timecode at %s, from %s: it is never played", c.Channel, song.Audio.Path, c.Rate, label)
			f.Help = "take the channel out of those that are heard, or put a recording in its place that holds music there"
			f.Values = []Value{count("channel", c.Channel), word("from", label)}
			r.add(r.tune(i, nil, nil), i, "", f)
		}
	}
}

func checkAudio(r *setRun) {
	for i := range r.plan.Songs {
		song := r.song(i).Song
		fact, known := r.facts.Audio[song.ID]
		if song.Audio.Path == "" {
			continue
		}
		if !known || fact.State == AudioPresent {
			r.checkPlacedOn(i, song)
			continue
		}
		f := Finding{Ref: timeline.Ref{Kind: "song", ID: song.ID}}
		switch fact.State {
		case AudioMissing:
			f.Text, f.Help = "recording "+song.Audio.Path+" is missing", "put it back, or link the song to it where it is now"
		case AudioChanged:
			f.Text, f.Help = "recording "+song.Audio.Path+" is not the one the song was programmed to", "put the old one back, or carry the cues over to the new one"
		case AudioUnread:
			f.Text, f.Help = "recording "+song.Audio.Path+" cannot be read", "replace it with one that can be read"
		default:
			continue
		}
		if fact.Detail != "" {
			f.Text += ": " + fact.Detail
		}
		f.Values = []Value{word("state", string(fact.State)), word("detail", fact.Detail)}
		r.add(r.tune(i, nil, nil), i, "", f)
	}
}

// checkPlacedOn finds cues that were placed against another recording than the song
// names now. Nothing of it depends on the file.
func (r *setRun) checkPlacedOn(i int, song *timeline.Song) {
	if base := r.plan.Show.Strayed(song); base != nil {
		f := Finding{Ref: timeline.Ref{Kind: "song", ID: song.ID}, Others: []timeline.Ref{{Kind: "song", ID: base.ID}}}
		f.Text = fmt.Sprintf("the cues it shares with %q were placed against another recording since it was said where they are in this one", base.FullTitle())
		f.Help = "compare the recordings again and give this version the new map, or hear the cues and confirm them"
		f.Values = []Value{word("shared-from", song.From), word("placed-on", base.Audio.PlacedOn), word("file-hash", base.Audio.FileHash)}
		r.add(r.tune(i, nil, nil), i, "", f)
	}
	if !song.Elsewhere() {
		r.checkDoubted(i, song)
		return
	}
	f := Finding{Ref: timeline.Ref{Kind: "song", ID: song.ID}}
	f.Text = "its cues were placed against another recording than " + song.Audio.Path + ", and nobody has confirmed them on this one"
	f.Help = "hear the cues against this recording, move those that are off, and confirm them; or name the old recording again"
	f.Values = []Value{word("placed-on", song.Audio.PlacedOn), word("file-hash", song.Audio.FileHash)}
	r.add(r.tune(i, nil, nil), i, "", f)
}

// checkDoubted finds cues that were carried over from another recording with doubt, or
// of which the music is heard again now, and that nobody has looked at.
func (r *setRun) checkDoubted(i int, song *timeline.Song) {
	cues := song.Doubted()
	if len(cues) == 0 {
		return
	}
	when := func(c *timeline.Cue) timeline.Time { at, _ := c.At.In(song.Beats); return at }
	slices.SortStableFunc(cues, func(a, b *timeline.Cue) int { return cmp.Compare(when(a), when(b)) })
	var places []string
	for _, c := range cues {
		if at := c.At.String(); !slices.Contains(places, at) {
			places = append(places, at)
		}
	}
	where := strings.Join(places[:min(len(places), mostPlaces)], ", ")
	if n := len(places) - mostPlaces; n > 0 {
		where += fmt.Sprintf(" and %d more places", n)
	}
	f := Finding{Ref: timeline.Ref{Kind: "song", ID: song.ID}}
	were := fmt.Sprintf("%d cues that were", len(cues))
	if len(cues) == 1 {
		were = "1 cue that was"
	}
	f.Text = were + " carried over from another recording must be looked at: at " + where
	f.Help = "hear these cues against the recording, move those that are off, and confirm the song's cues"
	f.Values = []Value{count("cues", len(cues))}
	r.add(r.tune(i, nil, nil), i, "", f)
}

// mostPlaces is how many places a finding names.
const mostPlaces = 8

func checkNoAudio(r *songRun) {
	song := r.plan.Song
	if song.Audio.Path != "" {
		return
	}
	f := Finding{Ref: songRef(r.plan), Song: song.ID}
	f.Text, f.Help = "has no recording; its length of "+span(song.Length)+" is typed", "link the song to its recording"
	if song.Length == 0 {
		f.Text, f.Help = "has neither a recording nor a length", "link the song to its recording, or give it a length"
	}
	f.Values = []Value{seconds("length", song.Length)}
	r.add(r.songTune(), "", f)
}
