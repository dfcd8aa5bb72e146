package timeline

import (
	"fmt"
	"strconv"

	"emberbeat/timeline/field"
)

// Song is a song of the tour with everything that is programmed to it. Its
// slices are sorted by id, as all record slices are.
type Song struct {
	SongHead
	Sections []*Section
	Markers  []*Marker
	Lanes    []*Lane
	Phrases  []*Phrase
	Cues     []*Cue

	Astray []Astray        // of a version that shares, as it is programmed: cues that have no place in it
	lent   map[lentKey]Ref // likewise: its records that are another song's, and where those are
	Asides []*Aside        // what its recording has no place for
	Notes  []*Note         // of the crew
}

// SongHead is the record of a song: title, audio, beat map, place in timecode.
// All its times count from the start of the audio.
type SongHead struct {
	Base
	Title     string
	Slug      string // name of its folder: a-z, 0-9, '-'
	Version   string // "", or what makes it another version of the song VersionOf
	VersionOf ID
	Shares    bool      // it plays the cues of the song VersionOf; see Show.Programmed
	Map       []TimeRun // where that one's recording is in its own; none = where both have one recording, or by bars
	Twice     bool      // what is heard twice here plays twice
	Without   []ID      // cues of that song that it leaves out
	From      string    // file hash of the recording that the shared cues stood on when it was said where they are here
	Audio     Audio
	Length    Time     // typed length of a song without audio
	Start     Timecode // timecode of the start of the audio, in the show's rate
	PreRoll   Time     // timecode runs this long before the start; 0 = the show's
	Beats     *BeatMap
	Confirmed bool     // the user has looked at the beat map and found it right
	Locks     []string // the user's word to the ear: "bpm=128" "bar-one=0.5120" …
	Note      string
}

// Audio says which recording the song is programmed to.
type Audio struct {
	Path     string // relative to the show folder, with '/'
	FileHash string
	PCMHash  string // over the decoded samples
	PlacedOn string // file hash of the recording that the cues were placed against; "" = not noted
	Look     []ID   // cues that were carried here from another recording with doubt, and nobody has looked at since
	Rate     int
	Frames   int64
	Heard    []int // channels that are heard, counted from 1; none = all but those that hold timecode
}

// Duration is the song's length: of its audio, or as typed where there is
// none.
func (s *SongHead) Duration() Time {
	if s.Audio.Rate > 0 && s.Audio.Frames > 0 {
		return FromSamples(s.Audio.Frames, s.Audio.Rate)
	}
	return s.Length
}

// Lane finds a lane by id, or nil.
func (s *Song) Lane(id ID) *Lane { return findRecord(s.Lanes, id) }

// Cue finds a cue by id, or nil.
func (s *Song) Cue(id ID) *Cue { return findRecord(s.Cues, id) }

func init() {
	type S = SongHead
	frames := field.Parsed("frames", "length of the audio in frames", func(s *S) *int64 { return &s.Audio.Frames },
		func(n int64) string { return strconv.FormatInt(n, 10) },
		func(t string) (int64, error) {
			n, err := strconv.ParseInt(t, 10, 64)
			if err != nil || n < 0 || n > 1<<40 {
				return 0, fmt.Errorf("must be a whole number, 0 or more")
			}
			return n, nil
		})
	frames.Type = IntegerField
	registerSongs(
		field.Text("title", "the song's title", func(s *S) *string { return &s.Title }),
		field.Parsed("slug", "name of its folder: a-z, 0-9 and -", func(s *S) *string { return &s.Slug }, func(t string) string { return t }, parseSlug),
		field.Text("version", "what makes it another version", func(s *S) *string { return &s.Version }),
		refField("version-of", "the song it is a version of", func(s *S) *ID { return &s.VersionOf }, "song"),
		field.Flag("shares", "it plays the cues of the song it is a version of, at their places here", func(s *S) *bool { return &s.Shares }),
		field.List("map", "where that song's recording is in its own: from..to to=from..to exact sure=; none = bar for bar", func(s *S) *[]TimeRun { return &s.Map }, TimeRun.String, ParseTimeRun),
		field.Flag("twice", "what is heard twice in it plays twice", func(s *S) *bool { return &s.Twice }),
		field.List("without", "cues of the song it shares with that it leaves out", func(s *S) *[]ID { return &s.Without }, func(id ID) string { return string(id) }, parseID),
		field.Text("shared-from", "hash of the recording that the shared cues stood on when it was said where they are here", func(s *S) *string { return &s.From }).AsKept(),
		field.Parsed("start", "timecode of the start of the audio", func(s *S) *Timecode { return &s.Start }, Timecode.String, ParseTimecode),
		spanField("pre-roll", "timecode runs this long before the start; 0 = the show's", func(s *S) *Time { return &s.PreRoll }),
		field.Text("audio", "the recording, relative to the show folder", func(s *S) *string { return &s.Audio.Path }),
		field.Text("file-hash", "hash of the audio file", func(s *S) *string { return &s.Audio.FileHash }).AsKept(),
		field.Text("pcm-hash", "hash of the decoded samples", func(s *S) *string { return &s.Audio.PCMHash }).AsKept(),
		field.List("heard", "channels of the audio that are heard, counted from 1; none = all. One that holds timecode is never played", func(s *S) *[]int { return &s.Audio.Heard }, strconv.Itoa, parseChannel),
		field.Text("placed-on", "hash of the audio file that the cues were placed against, or were confirmed on", func(s *S) *string { return &s.Audio.PlacedOn }).AsKept(),
		field.List("look", "cues that were carried from another recording with doubt, until somebody confirms them", func(s *S) *[]ID { return &s.Audio.Look }, func(id ID) string { return string(id) }, parseID),
		field.Whole("sample-rate", "of the audio, per second", 0, 10_000_000, func(s *S) *int { return &s.Audio.Rate }).AsKept(),
		frames.AsKept(),
		spanField("length", "length of a song without audio", func(s *S) *Time { return &s.Length }),
		beatMapField(),
		field.Flag("confirmed", "the beat map has been looked at and found right", func(s *S) *bool { return &s.Confirmed }),
		field.TextList("locks", "the user's word to the ear: bpm=128, bar-one=0.5120, metre=3/4, stretch=62..75.5", func(s *S) *[]string { return &s.Locks }),
		field.Text("note", "", func(s *S) *string { return &s.Note }),
	)
}

func beatMapField() Field {
	return field.Of("beats", "beat map: bar.beat at=seconds metre=4/4, at least two, straight between them", ListField,
		func(s *SongHead) Value {
			var items []string
			for _, a := range s.Beats.Anchors() {
				items = append(items, a.String())
			}
			return Value{Items: items}
		},
		func(s *SongHead, v Value) error {
			var anchors []Anchor
			for i, s := range v.Items {
				a, err := ParseAnchor(s)
				if err != nil {
					return fmt.Errorf("item %d, %q: %w", i+1, s, err)
				}
				anchors = append(anchors, a)
			}
			beats, err := NewBeatMap(anchors)
			if err != nil {
				return err
			}
			s.Beats = beats
			return nil
		})
}

// parseChannel reads the number of a channel of a recording.
func parseChannel(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 256 {
		return 0, fmt.Errorf("must be the number of a channel, 1 to 256")
	}
	return n, nil
}

func parseSlug(s string) (string, error) {
	if s != "" && !ID(s).Valid() {
		return "", fmt.Errorf("must be up to 40 characters of a-z, 0-9 and -")
	}
	return s, nil
}

// Section is a part of a song: verse, chorus, or a letter the ear gave.
type Section struct {
	Base
	Name   string
	At     Moment
	To     Moment
	Energy int // rank or level in percent, 0 = not given
}

// Marker is a named instant of a song.
type Marker struct {
	Base
	Name string
	At   Moment
}

func init() {
	registerInSong("section", "sections", "a part of a song",
		func(s *Song) *[]*Section { return &s.Sections },
		momentField("at", "where it starts", func(s *Section) *Moment { return &s.At }),
		momentField("to", "where it ends; left out = at the next section", func(s *Section) *Moment { return &s.To }),
		field.Text("name", "what the crew calls it", func(s *Section) *string { return &s.Name }),
		field.Whole("energy", "how loud and busy it is, in percent", 0, 100, func(s *Section) *int { return &s.Energy }),
	)
	registerInSong("marker", "markers", "a named instant of a song",
		func(s *Song) *[]*Marker { return &s.Markers },
		momentField("at", "where it stands", func(m *Marker) *Moment { return &m.At }),
		field.Text("name", "what the crew calls it", func(m *Marker) *string { return &m.Name }),
	)
}
