package field

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPlain(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "Jet left, 8 m": "", "tab\there": "", "ünï — ✓ עברית": "", "\ufffd": "",
		"a\nb": "a control character (U+000A)", "a\u009bb": "a control character (U+009B)", "\x7f": "a control character (U+007F)",
		"a\u2028b": "a line break (U+2028)", "a\u202eb": "a mark that turns the direction of writing (U+202E)", "\u061c": "U+061C", "\u2069": "U+2069",
	} {
		err := Plain(text)
		if want == "" {
			require.NoError(t, err, "%q", text)
			continue
		}
		require.ErrorContains(t, err, want, "%q", text)
	}
}

func TestClean(t *testing.T) {
	for text, want := range map[string]string{
		"as it is ": "as it is ", "first\n second\u202e": "first second", "\n\na": "a", "a\r\nb\u2028c": "a b c", "\x00\x1b": "", "a\x1b[1mb": "a[1mb",
	} {
		require.Equal(t, want, Clean(text), "%q", text)
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.RuneFrom([]rune("\n\r\x00\u0085\u202e\u2029 ")))).Draw(t, "text")
		clean := Clean(text)
		require.NoError(t, Plain(clean))
		require.Equal(t, clean, Clean(clean))
	})
}
