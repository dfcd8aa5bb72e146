package audio

// Music is a song as a Transport plays it. It must not change.
type Music interface {
	// Shape gives the frames a second and the samples a frame, one or two where it is played.
	Shape() (rate, channels int)
	// Frames is its length.
	Frames() int64
	// Span gives the samples of n frames from first on, all of them inside the song and n at most WidestSpan; nil where they are not at hand,
	// which is silence. It allocates nothing and waits for nobody.
	Span(first, n int64) []int16
}

// WidestSpan is the largest number of frames that a Transport asks for at once.
const WidestSpan = 2048

// Shape gives rate and channels.
func (p *PCM) Shape() (rate, channels int) { return p.Rate, p.Channels }

// Span gives samples of the song.
func (p *PCM) Span(first, n int64) []int16 {
	c := int64(p.Channels)
	return p.Samples[first*c : (first+n)*c]
}

// Silence is a song in which nothing is heard: with it a playhead moves, and clicks sound, where there is no recording.
type Silence struct {
	Rate   int
	Length int64 // frames
}

// Shape gives its rate, and one channel.
func (s *Silence) Shape() (rate, channels int) { return s.Rate, 1 }

// Frames is its length.
func (s *Silence) Frames() int64 { return s.Length }

// Span gives nothing.
func (s *Silence) Span(first, n int64) []int16 { return nil }

// track is a song with what is asked of it for every frame.
type track struct {
	Music
	rate, channels int
	frames         int64
}

func newTrack(m Music) *track {
	if p, ok := m.(*PCM); ok {
		m = p.TwoChannels()
	}
	t := &track{Music: m, frames: m.Frames()}
	t.rate, t.channels = m.Shape()
	return t
}
