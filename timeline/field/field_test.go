package field

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
)

// thing is a struct that has nothing to do with a show.
type thing struct {
	name  string
	mass  float64
	count int
	on    bool
	word  word
	list  []string
}

type word string

func thingFields() map[string]Field {
	m := map[string]Field{}
	for _, f := range []Field{
		Text("name", "", func(t *thing) *string { return &t.name }),
		Number("mass", "kg", "", 0, 10, func(t *thing) *float64 { return &t.mass }),
		Whole("count", "", 1, 9, func(t *thing) *int { return &t.count }),
		Flag("on", "", func(t *thing) *bool { return &t.on }),
		Choice("word", "", func(t *thing) *word { return &t.word }, []word{"", "left", "right"}),
		TextList("list", "", func(t *thing) *[]string { return &t.list }),
	} {
		m[f.Name] = f
	}
	return m
}

// A field reads what was written, in one text for each value.
func TestFieldsReadWhatWasWritten(t *testing.T) {
	for _, c := range []struct {
		name, text, want string
		typ              Type
	}{
		{"name", "Jet left", "Jet left", TextType}, {"mass", "2.50", "2.5", NumberType}, {"mass", "-0", "0", NumberType},
		{"count", "07", "7", WholeType}, {"on", "yes", "true", FlagType}, {"on", "no", "false", FlagType}, {"word", "left", "left", TextType}, {"word", "", "", TextType},
	} {
		f, x := thingFields()[c.name], &thing{}
		require.NoError(t, f.Set(x, Value{Text: c.text}), c.name)
		require.Equal(t, Value{Text: c.want}, f.Get(x), c.name)
		require.Equal(t, c.typ, f.Type, c.name)
	}
	f, x := thingFields()["list"], &thing{}
	require.NoError(t, f.Set(x, Value{Items: []string{"a", "b;c"}}))
	require.Equal(t, Value{Items: []string{"a", "b;c"}}, f.Get(x))
	require.Equal(t, `a; "b;c"`, f.Get(x).String())
}

// What does not fit is refused with what would, and changes nothing.
func TestFieldsRefuse(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"name", "a\nb", "control character"}, {"name", "\xff", "UTF-8"}, {"mass", "11", "a number from 0 to 10 kg"}, {"mass", "NaN", "a number"},
		{"count", "0", "a whole number from 1 to 9"}, {"on", "perhaps", "true or false"}, {"word", "up", `is not one of: "" (none), left, right`},
	} {
		f := thingFields()[c.name]
		x := thing{name: "n", mass: 1, count: 2, on: true, word: "right"}
		was := x
		err := f.Set(&x, Value{Text: c.text})
		var bad *ValueError
		require.True(t, errors.As(err, &bad), c.name)
		require.Equal(t, c.name, bad.Field)
		require.ErrorContains(t, err, c.want)
		require.Equal(t, was, x, c.name)
	}
}
