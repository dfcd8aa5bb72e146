package app

import (
	"errors"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// What an error is about is found where it is wrapped, too, and what it was wrapped in stays.
func TestErrorsAboutValuesAreFoundWhereTheyAreWrapped(t *testing.T) {
	h := withExample(t)
	bank := h.a.work.Show.Rig.Banks[0]
	bad := &timeline.ValueError{Kind: "wire", Field: "unit", Value: string(bank.ID), Want: "has no output 99"}
	require.Equal(t, fmt.Sprintf("wire unit: %q: has no output 99", bank.Name), h.a.withName(bad).Error())
	wrapped := h.a.withName(fmt.Errorf("line 3: %w; nothing is wired", bad))
	require.Equal(t, fmt.Sprintf("line 3: wire unit: %q: has no output 99; nothing is wired", bank.Name), wrapped.Error())
	var ve *timeline.ValueError
	require.True(t, errors.As(wrapped, &ve))
	require.Equal(t, bank.Name, ve.Value)
	require.Equal(t, string(bank.ID), bad.Value, "the error itself is not changed")

	address := &timeline.ValueError{Kind: "device", Field: "address", Value: "600", Want: "is none"}
	d := &form{fields: []*formField{{name: "count", label: "How many"}, {name: "at", label: "Start at", about: []string{"address"}}}, out: outcome{err: fmt.Errorf("bar 1: %w", address)}}
	require.Equal(t, []string{"", "is none"}, []string{d.wrong(d.fields[0]), d.wrong(d.fields[1])}, "it stands at the field that asks for an address")
	require.Equal(t, `Start at: "600" is none`, d.problem())
	other := errors.New("no such thing")
	require.Same(t, other, h.a.withName(other))
}
