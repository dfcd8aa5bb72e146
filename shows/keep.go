package shows

import (
	"slices"
	"strings"

	"emberbeat/timeline"
)

// Names, in timeline.Kept.Keys, of comments that belong to no key. Field
// names hold none of these characters.
const (
	endMark  = "#end" // comments at the end of a file
	itemMark = "="    // field=item: comments of an item of a list
	lastMark = "]"    // field]: comments behind the last item
)

// keeper collects what a file says about a record beyond the model. Names are
// stored behind a prefix, where a record keeps things for several files.
type keeper struct {
	prefix string
	kept   timeline.Kept
}

// note keeps the comments of a key. A second note of the same key adds to the
// first.
func (k *keeper) note(key string, n timeline.KeptKey) {
	if len(n.Above) == 0 && n.Beside == "" {
		return
	}
	if k.kept.Keys == nil {
		k.kept.Keys = map[string]timeline.KeptKey{}
	}
	name := k.prefix + key
	if old, ok := k.kept.Keys[name]; ok {
		n = joinNotes(old, n)
	}
	k.kept.Keys[name] = n
}

func joinNotes(a, b timeline.KeptKey) timeline.KeptKey {
	a.Above = append(slices.Clip(a.Above), b.Above...)
	if a.Beside == "" {
		a.Beside = b.Beside
	} else if b.Beside != "" {
		a.Above = append(a.Above, b.Beside)
	}
	return a
}

// unknown keeps a key or table that the model does not know.
func (k *keeper) unknown(key, raw string, note timeline.KeptKey) {
	k.kept.Unknown = append(k.kept.Unknown, timeline.KeptPair{Key: k.prefix + key, Raw: raw, Note: note})
}

// table keeps a table that the model does not know, header and all.
func (k *keeper) table(d *document, b *block) {
	k.unknown(b.name(), d.raw(b), timeline.KeptKey{Above: b.note.Above})
}

// done gives what was collected, or nil if that is nothing.
func (k *keeper) done() *timeline.Kept {
	if len(k.kept.Above) == 0 && k.kept.Beside == "" && len(k.kept.Keys) == 0 && len(k.kept.Unknown) == 0 {
		return nil
	}
	return &k.kept
}

// joinKept adds what another file keeps in the same record.
func joinKept(a, b *timeline.Kept) *timeline.Kept {
	if a == nil || b == nil {
		if a == nil {
			return b
		}
		return a
	}
	c := *a
	c.Keys = make(map[string]timeline.KeptKey, len(a.Keys)+len(b.Keys))
	for k, v := range a.Keys {
		c.Keys[k] = v
	}
	for k, v := range b.Keys {
		c.Keys[k] = v
	}
	if len(c.Keys) == 0 {
		c.Keys = nil
	}
	c.Unknown = append(slices.Clip(c.Unknown), b.Unknown...)
	return &c
}

// keptPart is what one file says, out of all that its owner keeps.
type keptPart struct {
	kept   *timeline.Kept
	prefix string
}

func (p keptPart) note(key string) timeline.KeptKey {
	if p.kept == nil {
		return timeline.KeptKey{}
	}
	return p.kept.Keys[p.prefix+key]
}

func (p keptPart) has(key string) bool {
	n := p.note(key)
	return len(n.Above) > 0 || n.Beside != ""
}

// unknown lists the unknown keys of the part, without its prefix: tables or
// plain keys. The part of prefix "" holds what has no prefix at all.
func (p keptPart) unknown(tables bool) (list []timeline.KeptPair) {
	if p.kept == nil {
		return nil
	}
	for _, u := range p.kept.Unknown {
		key, ok := strings.CutPrefix(u.Key, p.prefix)
		if !ok || p.prefix == "" && prefixed(key) || strings.HasPrefix(key, "[") != tables || p.prefix != "" && lanePrefixed(p.prefix, key) {
			continue
		}
		u.Key = key
		list = append(list, u)
	}
	return list
}

// prefixed reports whether a kept name belongs to another file than its
// record's own: a ':' stands before any quote or bracket.
func prefixed(key string) bool {
	i := strings.IndexAny(key, `:"'[`)
	return i >= 0 && key[i] == ':'
}

// lanePrefixed reports whether a name of cues.toml belongs to one of its lanes.
func lanePrefixed(prefix, key string) bool { return prefix == cuesKind.prefix && prefixed(key) }

func (p keptPart) empty() bool {
	if p.kept == nil {
		return true
	}
	for k := range p.kept.Keys {
		if strings.HasPrefix(k, p.prefix) {
			return false
		}
	}
	for _, u := range p.kept.Unknown {
		if strings.HasPrefix(u.Key, p.prefix) {
			return false
		}
	}
	return true
}
