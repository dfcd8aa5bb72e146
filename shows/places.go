package shows

import "emberbeat/timeline"

// Places says where the records of a show stand on disk. The zero value knows
// no place. It never changes; see Loaded and Saved.
type Places struct {
	files map[string]map[timeline.Ref]int
}

// Place gives the file of a record, relative to the show folder, and the line
// it starts on, from 1; "" and 0 for a record that was not in the folder when
// it was last read or written.
func (p Places) Place(r timeline.Ref) (file string, line int) {
	for name, lines := range p.files {
		if line, ok := lines[r]; ok {
			return name, line
		}
	}
	return "", 0
}

// with gives the places after some files were written (with their lines) or
// removed (nil).
func (p Places) with(changed map[string]map[timeline.Ref]int) Places {
	files := make(map[string]map[timeline.Ref]int, len(p.files)+len(changed))
	for name, lines := range p.files {
		files[name] = lines
	}
	for name, lines := range changed {
		if lines == nil {
			delete(files, name)
		} else {
			files[name] = lines
		}
	}
	return Places{files}
}
