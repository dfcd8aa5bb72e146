package app

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"

	"emberbeat/render/desk/page"
	"emberbeat/timeline/field"
)

// form gives the form that stands open.
func (h *hand) form() *form { return h.a.dialog.(*form) }

// give sets arguments of the form that stands open, by name and value, as if they had been chosen or typed.
func (h *hand) give(pairs ...string) {
	h.t.Helper()
	h.step()
	for i := 0; i < len(pairs); i += 2 {
		h.put(pairs[i], pairs[i+1])
	}
	h.step()
}

func (h *hand) put(name, value string) {
	h.t.Helper()
	f := h.form()
	for _, r := range f.rows {
		for _, part := range r.parts {
			if part.name == name {
				part.text, f.stale = value, true
				return
			}
		}
	}
	k := slices.IndexFunc(f.rows, func(r *formRow) bool { return r.arg.Name == name })
	require.GreaterOrEqual(h.t, k, 0, "%s is no argument of %s", name, f.op.ID())
	r := f.rows[k]
	if kind, _, ok := strings.Cut(value, "="); ok && r.kind != nil {
		r.kind.at = slices.Index(r.arg.Ref, kind)
		f.choose(h.a, r)
	}
	switch v := r.value; {
	case v.many != nil:
		for i := range r.values {
			v.many[i] = slices.Contains(field.Split(value), r.values[i].Value)
		}
	case r.values != nil:
		v.at = slices.IndexFunc(r.values, func(x page.Choice) bool { return x.Value == value })
		require.GreaterOrEqual(h.t, v.at, 0, "%s cannot be chosen for %s", value, name)
	case v.flag:
		v.on = value == "true"
	case v.number != nil:
		x, err := strconv.ParseFloat(value, 64)
		require.NoError(h.t, err)
		v.amount = int64(math.Round(x * float64(v.perUnit)))
	default:
		v.text = value
	}
	f.stale = true
}
