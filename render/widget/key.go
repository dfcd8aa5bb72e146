package widget

import "strings"

// Key names a key by what it does in the user's layout: KeyA is the key that types an a. Digits are the row above the letters.
type Key uint8

// The keys. Letters and digits follow each other, so that KeyA+2 is KeyC.
const (
	KeyNone Key = iota
	KeyA
	KeyB
	KeyC
	KeyD
	KeyE
	KeyF
	KeyG
	KeyH
	KeyI
	KeyJ
	KeyK
	KeyL
	KeyM
	KeyN
	KeyO
	KeyP
	KeyQ
	KeyR
	KeyS
	KeyT
	KeyU
	KeyV
	KeyW
	KeyX
	KeyY
	KeyZ
	Key0
	Key1
	Key2
	Key3
	Key4
	Key5
	Key6
	Key7
	Key8
	Key9
	KeyF1
	KeyF2
	KeyF3
	KeyF4
	KeyF5
	KeyF6
	KeyF7
	KeyF8
	KeyF9
	KeyF10
	KeyF11
	KeyF12
	KeyLeft
	KeyRight
	KeyUp
	KeyDown
	KeyHome
	KeyEnd
	KeyPageUp
	KeyPageDown
	KeyEnter
	KeyEscape
	KeyTab
	KeySpace
	KeyBackspace
	KeyDelete
	KeyInsert
	KeyMenu
	KeyPlus
	KeyMinus
	KeyComma
	KeyPeriod
	KeySlash
	KeyQuestion
	KeyBracketLeft
	KeyBracketRight
	KeySemicolon
	KeyQuote
	KeyBackslash
	KeyBackquote
	keyCount
)

var keyNames = [keyCount]string{
	KeyF1: "F1", KeyF2: "F2", KeyF3: "F3", KeyF4: "F4", KeyF5: "F5", KeyF6: "F6", KeyF7: "F7", KeyF8: "F8", KeyF9: "F9", KeyF10: "F10",
	KeyF11: "F11", KeyF12: "F12", KeyLeft: "Left", KeyRight: "Right", KeyUp: "Up", KeyDown: "Down", KeyHome: "Home", KeyEnd: "End",
	KeyPageUp: "PgUp", KeyPageDown: "PgDn", KeyEnter: "Enter", KeyEscape: "Esc", KeyTab: "Tab", KeySpace: "Space", KeyBackspace: "Backspace",
	KeyDelete: "Delete", KeyInsert: "Insert", KeyMenu: "Menu", KeyPlus: "+", KeyMinus: "-", KeyComma: ",", KeyPeriod: ".", KeySlash: "/",
	KeyQuestion: "?", KeyBracketLeft: "[", KeyBracketRight: "]", KeySemicolon: ";", KeyQuote: "'", KeyBackslash: `\`, KeyBackquote: "`",
}

// String gives the key's name as it stands on screen and in the key file.
func (k Key) String() string {
	switch {
	case k >= KeyA && k <= KeyZ:
		return "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[k-KeyA : k-KeyA+1]
	case k >= Key0 && k <= Key9:
		return "0123456789"[k-Key0 : k-Key0+1]
	case k < keyCount:
		return keyNames[k]
	}
	return ""
}

// KeyNamed gives the key with a name, in any case; ok is false where there is none.
func KeyNamed(name string) (k Key, ok bool) {
	for k := KeyNone + 1; k < keyCount; k++ {
		if strings.EqualFold(k.String(), name) {
			return k, true
		}
	}
	return KeyNone, false
}

// String gives a press as people write it: Ctrl+Shift+Z.
func (p Press) String() string {
	s := ""
	for _, m := range []struct {
		mod  Mods
		name string
	}{{Ctrl, "Ctrl+"}, {Alt, "Alt+"}, {Shift, "Shift+"}} {
		if p.Mods&m.mod != 0 {
			s += m.name
		}
	}
	return s + p.Key.String()
}
