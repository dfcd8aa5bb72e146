package operation

import (
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// Every operation has all the words that talk about it, and says something even
// before anything is given.
func TestEveryOperationHasItsWords(t *testing.T) {
	s := timeline.NewShow("x", "Tour", timeline.Rate25)
	seen := map[string]bool{}
	for _, o := range All() {
		require.False(t, seen[o.ID()], o.ID())
		seen[o.ID()] = true
		for what, text := range map[string]string{"menu": o.Menu, "title": o.Title, "button": o.Button, "tip": o.Tip, "help": o.Help, "wording": o.Say(s, o.New())} {
			require.NotEmpty(t, text, "%s: %s", o.ID(), what)
		}
		require.Same(t, o, Find(o.Verb, o.Name))
	}
}

// Arguments give back what was put in, name the others only as they are called,
// and a word that may be left out comes last.
func TestEveryArgumentReadsBack(t *testing.T) {
	for _, o := range All() {
		names := map[string]bool{}
		optional := false
		for i := range o.Args {
			a := &o.Args[i]
			require.False(t, names[a.Name], "%s %s", o.ID(), a.Name)
			names[a.Name] = true
			require.NotEmpty(t, a.Help, "%s %s", o.ID(), a.Name)
			require.NotContains(t, a.Need, "--", "%s %s is needed in the window, too", o.ID(), a.Name)
			require.NotContains(t, o.Spell(a.Need, func(a *Argument) string { return a.Name }), "{", "%s %s", o.ID(), a.Name)
			if a.Word != "" {
				require.False(t, optional && !a.Optional, "%s %s", o.ID(), a.Name)
				optional = a.Optional
			}
			args := o.New()
			v := a.Get(args)
			if len(v.Text) > 0 && !a.NoForm {
				require.NoError(t, a.Set(args, v), "%s %s", o.ID(), a.Name)
			}
			require.Equal(t, v, a.Get(args), "%s %s", o.ID(), a.Name)
			for _, kind := range a.Ref {
				require.True(t, kind == "family" || timeline.KindOf(kind) != nil, "%s %s: %s", o.ID(), a.Name, kind)
			}
		}
	}
}

// What an operation of a night leaves is one item, which says what the operation
// said, makes the same again, is the only one of a night that has it alone, and
// goes when it is dropped.
func TestOperationsLeaveItems(t *testing.T) {
	show := rig(t)
	for _, c := range []struct {
		name  string
		texts map[string]string
		want  string
		why   string
	}{
		{"cut", map[string]string{"what": "family=comet", "reason": " low roof "}, "cut family comet", "low roof"},
		{"swap", map[string]string{"what": "placed=Comet 1", "to": "Cold jet"}, `swap placed "Comet 1" for "Cold jet", same hits`, ""},
		{"out", map[string]string{"name": "bank A", "reason": "dead"}, `out of the rig: bank "bank A"`, "dead"},
		{"plug", map[string]string{"name": "placed:Comet 1", "unit": "bank B", "output": "2"}, `plugged into "bank B" output 2: "Comet 1"`, ""},
		{"shift", map[string]string{"song": "Ember", "by": "-0.12", "start": "05:00:00:00"}, `song "Ember" starts at 05:00:00:00 moved by -0.1200 s`, ""},
		{"fill", map[string]string{"supply": "CO2", "kg": "18.5"}, `"CO2" weighed: 18.5 kg`, ""},
		{"condition", map[string]string{"text": " fire watch "}, "condition: fire watch", ""},
		{"distance", map[string]string{"to": "audience", "metres": "12", "from": "family=comet", "reason": "officer"}, "distance to audience: family comet, at least 12 m, asked for by officer", ""},
		{"accept", map[string]string{"rule": "roof", "record": "supply:CO2", "by": "R. Holm", "reason": "seen"}, `accept roof of supply "CO2"`, "R. Holm: seen"},
	} {
		o, p := Find("night", c.name), timeline.Compile(show, show.Night("n"))
		at := At{Plan: p, On: timeline.Ref{Kind: "night", ID: "n"}, Found: func(string) (map[timeline.Ref][]string, error) {
			return map[timeline.Ref][]string{{Kind: "supply", ID: "co2"}: {"0011"}}, nil
		}}
		args := o.New()
		for name, text := range c.texts {
			require.NoError(t, o.Arg(name).Give(p, args, text), "%s %s", c.name, name)
		}
		require.Equal(t, c.want, o.Say(show, args))
		edit, err := o.Edit(at, args)
		require.NoError(t, err, c.name)
		next, err := show.Edit(edit)
		require.NoError(t, err, c.name)
		items := NightItems(next, next.Night("n"))
		require.Len(t, items, 1, c.name)
		i := items[0]
		require.Same(t, o, i.Op)
		require.Equal(t, []string{c.want, c.why}, []string{i.Text, i.Why})
		require.Equal(t, items[0].Text, NightItems(next, i.Alone(""))[0].Text)
		again, err := o.Edit(at, i.Args)
		require.NoError(t, err, c.name)
		same, err := show.Edit(again)
		require.NoError(t, err, c.name)
		require.Equal(t, next.Night("n"), same.Night("n"), c.name)
		gone, err := next.Edit(i.Drop("n"))
		require.NoError(t, err, c.name)
		require.Empty(t, NightItems(gone, gone.Night("n")), c.name)
		undo, err := Find("night", "back").Edit(At{Plan: timeline.Compile(next, next.Night("n")), On: at.On}, &Back{Name: c.name})
		require.NoError(t, err, c.name)
		gone, err = next.Edit(undo)
		require.NoError(t, err, c.name)
		require.Empty(t, NightItems(gone, gone.Night("n")), c.name)
	}
}

// Out and plug share a list of the night; each counts, and takes back, its own.
func TestItemsOfASharedList(t *testing.T) {
	show := rig(t)
	show, err := show.Edit(
		timeline.PlugTonight("n", timeline.RigChange{Kind: "placed", ID: "comet-1", Driver: "b", Output: 2}),
		timeline.TakeOutTonight("n", timeline.RigChange{Kind: "bank", ID: "a"}),
		timeline.CutTonight("n", timeline.Cut{Selector: timeline.Selector{What: "family", ID: "comet"}}))
	require.NoError(t, err)
	var names []string
	for _, i := range NightItems(show, show.Night("n")) {
		names = append(names, i.Op.Name)
	}
	require.Equal(t, []string{"cut", "plug", "out"}, names, "list by list, each in its own order")
	at := At{Plan: timeline.Compile(show, show.Night("n")), On: timeline.Ref{Kind: "night", ID: "n"}}
	one, two := 1, 2
	edit, err := Find("night", "back").Edit(at, &Back{Name: "out", N: &one})
	require.NoError(t, err)
	next, err := show.Edit(edit)
	require.NoError(t, err)
	require.Equal(t, []timeline.RigChange{{Kind: "placed", ID: "comet-1", Driver: "b", Output: 2}}, next.Night("n").Rig)
	_, err = Find("night", "back").Edit(at, &Back{Name: "out", N: &two})
	require.ErrorContains(t, err, `"2" is none of the numbers: 1: bank="bank A" out`)
	_, err = Find("night", "back").Edit(at, &Back{Name: "fill"})
	require.ErrorContains(t, err, "night fills: there is nothing to take back")
}

// A shift of 0 is something that was given: it ends what moved the song.
func TestShiftOfNothing(t *testing.T) {
	show := rig(t)
	o, p := Find("night", "shift"), timeline.Compile(show, show.Night("n"))
	at := At{Plan: p, On: timeline.Ref{Kind: "night", ID: "n"}}
	args := o.New()
	require.NoError(t, o.Arg("song").Give(p, args, "Ember"))
	_, err := o.Edit(at, args)
	require.ErrorContains(t, err, "{by}")
	require.NoError(t, o.Arg("by").Give(p, args, "0"))
	edit, err := o.Edit(at, args)
	require.NoError(t, err)
	moved, err := show.Edit(timeline.ShiftTonight("n", timeline.Shift{Song: "ember", By: timeline.Second}), edit)
	require.NoError(t, err)
	require.Empty(t, moved.Night("n").Shifts)
}

// rig is a show with what the operations of a night are about.
func rig(t *testing.T) *timeline.Show {
	t.Helper()
	put := func(kind, id string, fields ...string) timeline.Edit {
		return func(d *timeline.Draft) error {
			k := timeline.KindOf(kind)
			r := k.New(timeline.ID(id))
			for i := 0; i < len(fields); i += 2 {
				if err := k.Field(fields[i]).Set(r, timeline.Value{Text: fields[i+1]}); err != nil {
					return err
				}
			}
			d.Put("", r)
			return nil
		}
	}
	show, err := timeline.NewShow("x", "Tour", timeline.Rate25).Edit(
		put("article", "comet", "name", "Comet", "family", "comet", "control", "igniter"),
		put("article", "cold", "name", "Cold jet", "family", "co2-jet"),
		put("banktype", "t", "name", "Igniters", "kind", "igniter", "outputs", "8"),
		put("bank", "a", "name", "bank A", "type", "t", "address", "1"),
		put("bank", "b", "name", "bank B", "type", "t", "address", "2"),
		put("placed", "comet-1", "name", "Comet 1", "article", "comet"),
		put("supply", "co2", "name", "CO2", "medium", "CO2"),
		put("song", "ember", "title", "Ember", "slug", "ember", "length", "60"),
		put("night", "n", "name", "First", "slug", "first"))
	require.NoError(t, err)
	return show
}
