package widget

import (
	"image"
	"time"
)

// Buttons is a set of pointer buttons.
type Buttons uint8

// The pointer buttons.
const (
	Primary Buttons = 1 << iota
	Secondary
	Wheel
)

// Mods is a set of modifier keys. Ctrl stands for Cmd where that is the custom.
type Mods uint8

// The modifiers.
const (
	Shift Mods = 1 << iota
	Ctrl
	Alt
)

// Press is a key going down, or repeating while it is held.
type Press struct {
	Key    Key
	Mods   Mods
	Repeat bool
}

// Input is what the user did since the last frame. Keys come in the order in which they went down as far as it is known. Where keys and
// text arrive in one frame, keys that move or delete count before the text, and Enter, Tab and Escape after it.
type Input struct {
	Pointer  image.Point // device pixels
	Down     Buttons     // held now
	Pressed  Buttons     // went down
	Released Buttons     // went up
	Clicks   int         // with Pressed: 1 single, 2 double, 3 triple
	Wheel    image.Point // notches, down and right are positive
	Mods     Mods        // held now
	Keys     []Press
	Text     []rune        // typed letters in order
	Time     time.Duration // since any fixed moment; never goes back
}

// The longest time between two clicks of one double click, and the farthest in logical pixels.
const (
	clickTime  = 400 * time.Millisecond
	clickReach = 5
)

// Clicker counts clicks by time and distance.
type Clicker struct {
	at    time.Duration
	where image.Point
	count int
}

// Count tells the clicker of a press and gives what Input.Clicks should say; reach is the farthest in device pixels that still counts as
// the same place.
func (c *Clicker) Count(now time.Duration, p image.Point, reach int) int {
	d := p.Sub(c.where)
	if c.count > 0 && now-c.at <= clickTime && d.X*d.X+d.Y*d.Y <= reach*reach {
		c.count++
	} else {
		c.count = 1
	}
	c.at, c.where = now, p
	return c.count
}

// ClickReach gives the reach for Count in logical pixels.
func ClickReach() int { return clickReach }

// Clipboard is the place where text is exchanged with other programs.
type Clipboard interface {
	// Read gives the text on the clipboard, "" if there is none.
	Read() string
	// Write puts text on the clipboard.
	Write(text string)
}

// Board is a Clipboard of the program's own, for where there is no other.
type Board struct{ text string }

// Read gives the text last written.
func (b *Board) Read() string { return b.text }

// Write keeps text.
func (b *Board) Write(text string) { b.text = text }
