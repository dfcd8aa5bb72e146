package desk

import (
	"image"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"emberbeat/render"
	"emberbeat/render/widget"
)

// devices turns the engine's keys and pointer into a widget.Input.
type devices struct {
	last    widget.Input
	clicker widget.Clicker
	keys    []ebiten.Key
	text    []rune
	presses []widget.Press
	repeat  ebiten.Key
	next    time.Duration // of the repeat
	holding bool
	focused bool
}

// A held key repeats after repeatFirst, then every repeatNext.
const (
	repeatFirst = 450 * time.Millisecond
	repeatNext  = 55 * time.Millisecond
)

// read gives what was done since the last call, and whether that was anything.
func (d *devices) read(now time.Duration, scale render.Scale) (widget.Input, bool) {
	x, y := ebiten.CursorPosition()
	in := widget.Input{Pointer: image.Pt(x, y), Mods: mods(), Time: now}
	for b, e := range map[widget.Buttons]ebiten.MouseButton{widget.Primary: ebiten.MouseButtonLeft, widget.Secondary: ebiten.MouseButtonRight, widget.Wheel: ebiten.MouseButtonMiddle} {
		if ebiten.IsMouseButtonPressed(e) {
			in.Down |= b
		}
	}
	in.Pressed, in.Released = in.Down&^d.last.Down, d.last.Down&^in.Down
	if in.Pressed != 0 {
		in.Clicks = d.clicker.Count(now, in.Pointer, scale.Px(widget.ClickReach()))
	}
	wx, wy := ebiten.Wheel()
	in.Wheel = image.Pt(-sign(wx), -sign(wy))
	d.text = ebiten.AppendInputChars(d.text[:0])
	if in.Mods&widget.Ctrl == 0 || in.Mods&widget.Alt != 0 { // Ctrl with a digit is a command and makes a letter all the same; Ctrl+Alt is how some layouts type
		in.Text = d.text
	}
	in.Keys = d.pressed(now, in.Mods)
	focused := ebiten.IsFocused()
	done := in.Pointer != d.last.Pointer || in.Down != d.last.Down || in.Mods != d.last.Mods || in.Wheel != (image.Point{}) ||
		len(in.Keys) > 0 || len(in.Text) > 0 || focused != d.focused
	d.last, d.focused = in, focused
	return in, done
}

// held reports whether a key or button is down, so that the next thing that happens may come without an event.
func (d *devices) held() bool { return d.holding || d.last.Down != 0 || d.last.Mods != 0 }

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

func mods() widget.Mods {
	var m widget.Mods
	if ebiten.IsKeyPressed(ebiten.KeyShift) {
		m |= widget.Shift
	}
	if ebiten.IsKeyPressed(ebiten.KeyControl) || runtime.GOOS == "darwin" && ebiten.IsKeyPressed(ebiten.KeyMeta) {
		m |= widget.Ctrl
	}
	if ebiten.IsKeyPressed(ebiten.KeyAlt) {
		m |= widget.Alt
	}
	return m
}

// pressed gives the keys that went down, and the one that repeats.
func (d *devices) pressed(now time.Duration, m widget.Mods) []widget.Press {
	d.presses = d.presses[:0]
	d.keys = inpututil.AppendJustPressedKeys(d.keys[:0])
	for _, k := range d.keys {
		if p, ok := pressOf(k, m); ok {
			d.presses = append(d.presses, p)
			d.repeat, d.next, d.holding = k, now+repeatFirst, true
		}
	}
	if d.holding && !ebiten.IsKeyPressed(d.repeat) {
		d.holding = false
	}
	if d.holding && now >= d.next {
		if p, ok := pressOf(d.repeat, m); ok {
			p.Repeat = true
			d.presses = append(d.presses, p)
		}
		d.next = now + repeatNext
	}
	return d.presses
}

// pressOf names a key by the user's layout where it types a letter or sign, else by its place.
func pressOf(k ebiten.Key, m widget.Mods) (widget.Press, bool) {
	w, ok := keyOf(k)
	if !ok {
		return widget.Press{}, false
	}
	p := widget.Press{Key: w, Mods: m}
	switch {
	case w == widget.KeySlash && m&widget.Shift != 0:
		p.Key, p.Mods = widget.KeyQuestion, m&^widget.Shift
	case w == widget.KeyPlus:
		p.Mods &^= widget.Shift
	}
	return p, true
}

func keyOf(k ebiten.Key) (widget.Key, bool) {
	if w, ok := places[k]; ok {
		return w, true
	}
	name := ebiten.KeyName(k)
	if len(name) == 1 && (name[0] < '0' || name[0] > '9') {
		if name == "=" {
			return widget.KeyPlus, true
		}
		if w, ok := widget.KeyNamed(name); ok {
			return w, true
		}
	}
	w, ok := american[k]
	return w, ok
}

// places are the keys that do the same in every layout.
var places = map[ebiten.Key]widget.Key{
	ebiten.KeyF1: widget.KeyF1, ebiten.KeyF2: widget.KeyF2, ebiten.KeyF3: widget.KeyF3, ebiten.KeyF4: widget.KeyF4, ebiten.KeyF5: widget.KeyF5,
	ebiten.KeyF6: widget.KeyF6, ebiten.KeyF7: widget.KeyF7, ebiten.KeyF8: widget.KeyF8, ebiten.KeyF9: widget.KeyF9, ebiten.KeyF10: widget.KeyF10,
	ebiten.KeyF11: widget.KeyF11, ebiten.KeyF12: widget.KeyF12,
	ebiten.KeyArrowLeft: widget.KeyLeft, ebiten.KeyArrowRight: widget.KeyRight, ebiten.KeyArrowUp: widget.KeyUp, ebiten.KeyArrowDown: widget.KeyDown,
	ebiten.KeyHome: widget.KeyHome, ebiten.KeyEnd: widget.KeyEnd, ebiten.KeyPageUp: widget.KeyPageUp, ebiten.KeyPageDown: widget.KeyPageDown,
	ebiten.KeyEnter: widget.KeyEnter, ebiten.KeyNumpadEnter: widget.KeyEnter, ebiten.KeyEscape: widget.KeyEscape, ebiten.KeyTab: widget.KeyTab,
	ebiten.KeySpace: widget.KeySpace, ebiten.KeyBackspace: widget.KeyBackspace, ebiten.KeyDelete: widget.KeyDelete, ebiten.KeyInsert: widget.KeyInsert,
	ebiten.KeyContextMenu: widget.KeyMenu, ebiten.KeyNumpadAdd: widget.KeyPlus, ebiten.KeyNumpadSubtract: widget.KeyMinus,
	ebiten.KeyDigit0: widget.Key0, ebiten.KeyDigit1: widget.Key1, ebiten.KeyDigit2: widget.Key2, ebiten.KeyDigit3: widget.Key3, ebiten.KeyDigit4: widget.Key4,
	ebiten.KeyDigit5: widget.Key5, ebiten.KeyDigit6: widget.Key6, ebiten.KeyDigit7: widget.Key7, ebiten.KeyDigit8: widget.Key8, ebiten.KeyDigit9: widget.Key9,
	ebiten.KeyNumpad0: widget.Key0, ebiten.KeyNumpad1: widget.Key1, ebiten.KeyNumpad2: widget.Key2, ebiten.KeyNumpad3: widget.Key3, ebiten.KeyNumpad4: widget.Key4,
	ebiten.KeyNumpad5: widget.Key5, ebiten.KeyNumpad6: widget.Key6, ebiten.KeyNumpad7: widget.Key7, ebiten.KeyNumpad8: widget.Key8, ebiten.KeyNumpad9: widget.Key9,
}

// american are the keys of the US layout, for keys that the user's layout gives no name of ours.
var american = map[ebiten.Key]widget.Key{
	ebiten.KeyEqual: widget.KeyPlus, ebiten.KeyMinus: widget.KeyMinus, ebiten.KeyComma: widget.KeyComma, ebiten.KeyPeriod: widget.KeyPeriod,
	ebiten.KeySlash: widget.KeySlash, ebiten.KeyBracketLeft: widget.KeyBracketLeft, ebiten.KeyBracketRight: widget.KeyBracketRight,
	ebiten.KeySemicolon: widget.KeySemicolon, ebiten.KeyQuote: widget.KeyQuote, ebiten.KeyBackslash: widget.KeyBackslash, ebiten.KeyBackquote: widget.KeyBackquote,
}

func init() {
	for k := ebiten.KeyA; k <= ebiten.KeyZ; k++ {
		american[k] = widget.KeyA + widget.Key(k-ebiten.KeyA)
	}
}

// droppedFiles gives the paths of files that were dropped on the window since the last call.
func droppedFiles() []string {
	dropped := ebiten.DroppedFiles()
	if dropped == nil {
		return nil
	}
	entries, err := fs.ReadDir(dropped, ".")
	if err != nil {
		return nil
	}
	var paths []string
	for _, e := range entries {
		if f, err := dropped.Open(e.Name()); err == nil {
			if o, ok := f.(*os.File); ok {
				if abs, err := filepath.Abs(o.Name()); err == nil {
					paths = append(paths, abs)
				}
			}
			f.Close()
		}
	}
	return paths
}
