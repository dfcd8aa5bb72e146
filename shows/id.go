package shows

import (
	"crypto/rand"

	"emberbeat/timeline"
)

// idLetters are 32 characters that are hard to take for each other when read
// aloud or copied by hand: no i, l, o and u.
const idLetters = "0123456789abcdefghjkmnpqrstvwxyz"

// NewID gives a random id of eight characters for a new record: 40 bits, so
// that among 20,000 records two are alike once in 5,000 shows. The first is a
// letter, which is easier to tell from a number in a list.
func NewID() timeline.ID {
	b := make([]byte, 8)
	rand.Read(b) // never fails
	for i := range b {
		b[i] = idLetters[b[i]%32]
	}
	if b[0] <= '9' {
		b[0] = idLetters[10+b[0]%22]
	}
	return timeline.ID(b)
}

// NewIDFor gives a random id that no record of a kind has in a show; song
// names the song for kinds that live in one.
func NewIDFor(s *timeline.Show, kind string, song timeline.ID) timeline.ID {
	k := timeline.KindOf(kind)
	for {
		if id := NewID(); k == nil || k.Find(s, song, id) == nil {
			return id
		}
	}
}
