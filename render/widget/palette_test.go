package widget

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPalette(t *testing.T) {
	p, got, done, closed := &Palette{}, "", false, false
	reopen := func(b *bench) {
		closed = true
		b.frame(Input{})
		*p, done, closed = Palette{}, false, false
		b.frame(Input{})
		b.frame(Input{})
	}
	b := newBench(800, 600, func(u *UI) {
		if !done && !closed {
			got, done = u.Palette("p", p, "Commands", galleryCommands)
		}
	})
	b.frame(Input{})
	b.frame(Input{Text: []rune("ex cue")})
	b.tap(KeyEnter)
	require.True(t, done)
	require.Equal(t, "export", got)

	reopen(b)
	b.frame(Input{Text: []rune("qu")})
	b.tap(KeyEnter)
	require.False(t, done, "an unusable command does nothing")
	require.Contains(t, b.scene.Dump(), "no cue is selected")
	b.tap(KeyEscape, KeyEscape)
	require.True(t, done)
	require.Equal(t, "", got)

	reopen(b)
	b.tap(KeyDown, KeyEnter)
	require.Equal(t, "next", got)
}

func TestMatch(t *testing.T) {
	texts := []string{"Next cue", "Export cue list", "Exclude cues", "Écoute"}
	best := func(query string) string {
		name, top := "", -1
		for _, text := range texts {
			if s, ok := Match(query, text); ok && s > top {
				name, top = text, s
			}
		}
		return name
	}
	for query, want := range map[string]string{"ecl": "Export cue list", "ex cue": "Export cue list", "nc": "Next cue", "excl": "Exclude cues", "éc": "Écoute", "zz": "", "CUES": "Exclude cues"} {
		require.Equal(t, want, best(query), query)
	}
	_, ok := Match("", "anything")
	require.True(t, ok)
	_, ok = Match("a", "")
	require.False(t, ok)
}

func TestBrowser(t *testing.T) {
	br, got, done := &Browser{Title: "Open", Verb: "Open", Folder: "/shows"}, "", false
	b := newBench(800, 600, func(u *UI) {
		if !done {
			got, done = u.Browse("b", br, sampleFiles{})
		}
	})
	b.frame(Input{})
	b.tap(KeyDown, KeyEnter)
	require.True(t, done)
	require.Equal(t, "/shows/harbour-tour", got)

	b.frame(Input{})
	done = false
	b.frame(Input{})
	b.frame(Input{})
	b.typing("n") // notes.txt
	b.tap(KeyEnter)
	require.False(t, done, "what is no show cannot be opened")
	b.frame(Input{Keys: []Press{{Key: KeyBackspace}}})
	b.frame(Input{})
	require.Equal(t, "/", br.Folder)
	b.tap(KeyEnter)
	b.frame(Input{})
	require.Equal(t, "/shows", br.Folder, "a plain folder is gone into")
	b.tap(KeyEscape)
	require.True(t, done)
	require.Equal(t, "", got)

	b.frame(Input{})
	br, done = &Browser{Title: "New", Verb: "Make", Folder: "/shows", Save: true}, false
	b.frame(Input{})
	b.frame(Input{})
	b.tap(KeyEnter)
	require.False(t, done, "a name is needed")
	b.frame(Input{Text: []rune("spring")})
	b.tap(KeyEnter)
	require.Equal(t, "/shows/spring", got)
}
