package widget

// editKeys handles the keys that move, delete and exchange text.
func (u *UI) editKeys(t *textState) {
	for i, p := range u.in.Keys {
		if !u.used[i] && u.editKey(t, p) {
			u.used[i] = true
		}
	}
}

func (u *UI) editKey(t *textState, p Press) bool {
	extend, jump := p.Mods&Shift != 0, p.Mods&Ctrl != 0
	pick := func(letter, word Motion) Motion {
		if jump {
			return word
		}
		return letter
	}
	if p.Mods&Alt != 0 { // some layouts type with Ctrl and Alt
		return len(u.in.Text) > 0 && typesText(p.Key)
	}
	switch p.Key {
	case KeyLeft:
		t.Move(pick(PrevLetter, PrevWord), extend)
	case KeyRight:
		t.Move(pick(NextLetter, NextWord), extend)
	case KeyHome:
		t.Move(LineStart, extend)
	case KeyEnd:
		t.Move(LineEnd, extend)
	case KeyBackspace:
		t.Delete(pick(PrevLetter, PrevWord))
	case KeyDelete:
		if extend {
			return u.exchange(t, KeyX)
		}
		t.Delete(pick(NextLetter, NextWord))
	case KeyInsert:
		if extend {
			return u.exchange(t, KeyV)
		}
		return jump && u.exchange(t, KeyC)
	default:
		if !jump {
			return p.Mods == 0 && typesText(p.Key) || p.Mods == Shift && typesText(p.Key)
		}
		if p.Key == KeyZ && extend {
			t.Redo()
			return true
		}
		return !extend && u.exchange(t, p.Key)
	}
	return true
}

// typesText says whether a key makes a letter, which then comes as text: a field takes it so that no command hears it.
func typesText(k Key) bool {
	return k >= KeyA && k <= Key9 || k == KeySpace || k >= KeyPlus && k < keyCount
}

// exchange handles what Ctrl and a letter do.
func (u *UI) exchange(t *textState, k Key) bool {
	switch k {
	case KeyA:
		t.SelectAll()
	case KeyC:
		if s := t.Selected(); s != "" {
			u.Clip.Write(s)
		}
	case KeyX:
		if s := t.Selected(); s != "" {
			u.Clip.Write(s)
			t.Delete(NextLetter)
		}
	case KeyV:
		if s := u.Clip.Read(); s != "" {
			t.Insert(s)
		}
	case KeyZ:
		t.Undo()
	case KeyY:
		t.Redo()
	default:
		return false
	}
	return true
}
