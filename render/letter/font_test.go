package letter

import (
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

// Letters of the scripts that names are promised in: Latin-1, its extensions A and
// B up to Romanian, all that Vietnamese adds, Greek with the accents of old, and
// Cyrillic (The Unicode Standard, code charts). Each has a glyph in both weights,
// and none is the stand-in.
func TestScriptsOfNames(t *testing.T) {
	for _, block := range []struct {
		name     string
		from, to rune
		of       *unicode.RangeTable
	}{
		{"ASCII", ' ', 0x7E, nil},
		{"Latin", 0xA1, 0x21B, unicode.Latin},
		{"Latin with two accents", 0x1E00, 0x1EF9, unicode.Latin},
		{"Greek", 0x386, 0x3CE, unicode.Greek},
		{"Greek of old", 0x1F00, 0x1FFE, unicode.Greek},
		{"Cyrillic", 0x400, 0x525, unicode.Cyrillic}, // the ten after it are of minor tongues, and missing
	} {
		n := 0
		for r := block.from; r <= block.to; r++ {
			if block.of != nil && !unicode.Is(block.of, r) || !unicode.IsPrint(r) {
				continue
			}
			n++
			for _, w := range []*Weight{Regular, Bold} {
				f, is := w.Of(r)
				require.Equal(t, r, is, "%s: %U %c", block.name, r, r)
				require.NotZero(t, f.Glyph(r), "%s: %U %c", block.name, r, r)
			}
		}
		require.Greater(t, n, 60, block.name)
	}
}

// What the main fonts have stays in them, so that a text in them looks as it did.
func TestMainFontFirst(t *testing.T) {
	for r := rune(' '); r < 0x530; r++ {
		if Regular.Main.Glyph(r) != 0 {
			f, is := Regular.Of(r)
			require.Same(t, Regular.Main, f, "%U", r)
			require.Equal(t, r, is)
		}
	}
	f, _ := Regular.Of('ễ')
	require.Same(t, Regular.More, f)
	f, _ = Bold.Of('ễ')
	require.Same(t, Bold.More, f)
}

// What no font has, or what would be wrong letter by letter, is not set at all.
func TestMissing(t *testing.T) {
	require.Empty(t, Missing("Nguyễn, Ζωή, Щука ✓"))
	require.Equal(t, []rune("火山"), Missing("火 Ember 山火"))
	require.Equal(t, []rune("\U0001F525"), Missing("\U0001F525"))
	require.Equal(t, []rune("شعلة"), Missing("شعلة"), "joined letters")
	require.Equal(t, []rune{0xFFFD}, Missing("cut \xe2\x82"))
	_, is := Regular.Of('火')
	require.Equal(t, rune(Stand), is)
}
