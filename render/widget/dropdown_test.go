package widget

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

// A long choice is found by its letters: typing on the closed field opens it; what begins so comes first, then what has such a word, then what holds it.
func TestDropdownIsFoundByTyping(t *testing.T) {
	items := []string{"none", "Gas flame, 5 m", "Cold jet, 6 m", "Comet, white", "Afore", "Low fog", "Cold jet, 4 m", "comet, red"}
	at := 0
	b := newBench(300, 300, func(u *UI) { at, _ = u.Dropdown("d", image.Rect(10, 10, 200, 38), items, at) })
	pick := func(text string) string {
		b.ui.Focus("d")
		b.frame(Input{})
		for _, r := range text {
			b.typing(string(r))
		}
		b.tap(KeyEnter)
		require.False(t, b.ui.MenuOpen("d"), text)
		b.wait(typeAhead * 2)
		return items[at]
	}
	require.Equal(t, "Comet, white", pick("com"))
	require.Equal(t, "Cold jet, 4 m", pick("col"), "the next one from what holds")
	require.Equal(t, "Low fog", pick("fo"), "a word of it begins so")
	require.Equal(t, "Gas flame, 5 m", pick("lame"), "it holds it")
	require.Equal(t, "Cold jet, 6 m", pick("cold jet, 6"))
	require.Equal(t, "Cold jet, 6 m", pick("zz"), "nothing is called so: the choice stays")
	at = 0
	require.Equal(t, "Comet, white", pick("cc"), "the same letter again goes on to the next")
	b.ui.Focus("d")
	b.frame(Input{})
	b.frame(Input{Keys: []Press{{Key: KeyL}}, Text: []rune("l")})
	require.Empty(t, b.ui.Left(), "no command hears the letter")
}

func TestLinkLeads(t *testing.T) {
	used := 0
	b := newBench(300, 60, func(u *UI) {
		if u.Link("l", image.Rect(10, 10, 200, 36), "from the lane") {
			used++
		}
	})
	b.click(30, 20)
	require.Equal(t, 1, used)
	b.ui.Focus("l")
	b.frame(Input{})
	b.tap(KeyEnter)
	require.Equal(t, 2, used)
}
