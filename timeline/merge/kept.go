package merge

import (
	"maps"
	"slices"
	"strings"

	"emberbeat/timeline"
)

// keptBoth merges what files say about a record beyond the model. Comments of
// both stay. An unknown key that both changed otherwise is a conflict; it is held
// as ours.
func keptBoth(base, ours, theirs *timeline.Kept) (*timeline.Kept, []string) {
	if ours == theirs {
		return ours, nil
	}
	b, o, t := keptOrNone(base), keptOrNone(ours), keptOrNone(theirs)
	out := &timeline.Kept{}
	n := note(timeline.KeptKey{Above: b.Above, Beside: b.Beside}, timeline.KeptKey{Above: o.Above, Beside: o.Beside}, timeline.KeptKey{Above: t.Above, Beside: t.Beside})
	out.Above, out.Beside = n.Above, n.Beside
	names := map[string]bool{}
	for _, k := range []timeline.Kept{*o, *t} {
		for name := range k.Keys {
			names[name] = true
		}
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		if n := note(b.Keys[name], o.Keys[name], t.Keys[name]); len(n.Above) > 0 || n.Beside != "" {
			if out.Keys == nil {
				out.Keys = map[string]timeline.KeptKey{}
			}
			out.Keys[name] = n
		}
	}
	var clashing []string
	out.Unknown, clashing = unknownBoth(b.Unknown, o.Unknown, t.Unknown)
	if len(out.Above) == 0 && out.Beside == "" && len(out.Keys) == 0 && len(out.Unknown) == 0 {
		return nil, clashing
	}
	return out, clashing
}

func keptOrNone(k *timeline.Kept) *timeline.Kept {
	if k == nil {
		return &timeline.Kept{}
	}
	return k
}

// note merges the comments of one key: where both wrote another one beside it,
// one of them goes above.
func note(b, o, t timeline.KeptKey) timeline.KeptKey {
	n := timeline.KeptKey{Above: comments(b.Above, o.Above, t.Above)}
	switch {
	case o.Beside == t.Beside, b.Beside == t.Beside:
		n.Beside = o.Beside
	case b.Beside == o.Beside:
		n.Beside = t.Beside
	case o.Beside == "" || t.Beside == "":
		n.Beside = o.Beside + t.Beside
	default:
		n.Beside = min(o.Beside, t.Beside)
		n.Above = append(slices.Clip(n.Above), max(o.Beside, t.Beside))
	}
	return n
}

// unknownBoth merges the keys that this program does not know. The same table may
// stand there several times, each with a text of its own.
func unknownBoth(base, ours, theirs []timeline.KeptPair) (out []timeline.KeptPair, clashing []string) {
	b, o, t := pairsByName(base), pairsByName(ours), pairsByName(theirs)
	add := func(name string) {
		was, w := b[name]
		x, inO := o[name]
		y, inT := t[name]
		switch {
		case !inO && !inT, w && !inO && y.Raw == was.Raw, w && !inT && x.Raw == was.Raw:
			return
		case !inO:
			out = append(out, y)
			return
		case !inT:
			out = append(out, x)
			return
		}
		p := x
		p.Note = note(was.Note, x.Note, y.Note)
		switch {
		case x.Raw == y.Raw, w && y.Raw == was.Raw:
		case w && x.Raw == was.Raw:
			p.Raw = y.Raw
		default:
			clashing = append(clashing, name)
		}
		out = append(out, p)
	}
	first, second := ours, theirs
	if slices.Compare(namesOf(ours), namesOf(theirs)) > 0 {
		first, second = second, first // the same order, whoever is called ours
	}
	for _, name := range namesOf(first) {
		add(name)
	}
	one := pairsByName(first)
	for _, name := range namesOf(second) {
		if _, there := one[name]; !there {
			add(name)
		}
	}
	return out, clashing
}

// namesOf gives what tells unknown keys apart: the key, or for tables, of which
// there may be many, all of the text.
func namesOf(list []timeline.KeptPair) []string {
	names := make([]string, len(list))
	for i, p := range list {
		names[i] = nameOfPair(p)
	}
	return names
}

func nameOfPair(p timeline.KeptPair) string {
	if strings.Contains(p.Key, "[[") {
		return p.Key + "\n" + p.Raw
	}
	return p.Key
}

func pairsByName(list []timeline.KeptPair) map[string]timeline.KeptPair {
	m := make(map[string]timeline.KeptPair, len(list))
	for _, p := range list {
		m[nameOfPair(p)] = p
	}
	return m
}
