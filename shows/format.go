package shows

import (
	"slices"
)

// Format rewrites the files of a show in their canonical form and newest
// schema, and lists those it changed or removed. With check it changes
// nothing and lists those it would. Errors are those of Load and Save.
func Format(dir string, check bool) (changed []string, err error) {
	l, err := Load(dir)
	if err != nil {
		return nil, err
	}
	st := OS(dir)
	if check {
		return formatChanges(st, l)
	}
	lock, err := Lock(dir)
	if err != nil {
		return nil, err
	}
	defer lock.Unlock()
	s, err := SaveTo(st, l.Show, nil, SaveOptions{Prints: l.Prints, Keep: KeepVersion})
	if err != nil {
		return nil, err
	}
	changed = append(s.Written, s.Removed...)
	slices.Sort(changed)
	return changed, nil
}

// formatChanges lists the files that are not in canonical form.
func formatChanges(st Storage, l *Loaded) ([]string, error) {
	if err := checkStorable(l.Show); err != nil {
		return nil, err
	}
	st, err := settled(st)
	if err != nil {
		return nil, err
	}
	s := &saver{st: st}
	s.plan(l.Show, nil)
	if err := s.compare(); err != nil {
		return nil, err
	}
	changed := slices.Clone(s.gone)
	for _, f := range s.todo {
		changed = append(changed, f.name)
	}
	slices.Sort(changed)
	return changed, nil
}
