package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Items are read and written in one form each.
func TestItems(t *testing.T) {
	for _, c := range []struct {
		field      string
		item, want string // want "" = the item itself
	}{
		{"set entries", `ember gap=30 talk="thank you" alt=a encore out`, `ember gap=30.0000 talk="thank you" alt=a encore out`},
		{"set entries", `ember`, ""},
		{"night cuts", `family=comet reason="low roof"`, ""},
		{"night swaps", `family=propane-flame to=jet reason="say \"no\" to it"`, ""},
		{"night rig-changes", `bank=b4 out why=dead`, ""},
		{"night shifts", `song=ember by=-0.12 start=05:00:00:00`, `song=ember by=-0.1200 start=05:00:00:00`},
		{"night fills", `supply=c1 kg=22.7`, ""},
		{"night accepted", `rule=recovery record=cue:ember/q1 values=ab12 by="A. Person" reason=seen`, ""},
		{"venue audience", `"front barrier" from=-12,-3 to=12,-3.5`, ""},
		{"venue performers", `singer at=0,2 radius=1.5`, ""},
		{"devicetype slots", `1.3 role=arm head=2 on=64..127 off=10 name="arm 1" wide`, ""},
		{"devicetype slots", `2.12`, `2.12 role=effect on=255..255`},
		{"device starts", `513`, `2.1`},
		{"device starts", `1.512`, ``},
	} {
		f := fieldOf(t, c.field)
		kind := KindOf(firstWord(c.field))
		r := kind.New("x")
		require.NoError(t, f.Set(r, Value{Items: []string{c.item}}), c.item)
		want := c.want
		if want == "" {
			want = c.item
		}
		require.Equal(t, []string{want}, f.Get(r).Items)
		require.NoError(t, f.Set(r, Value{Items: []string{want}}))
		require.Equal(t, []string{want}, f.Get(r).Items, "its own form reads back")
	}
}

func TestImpossibleItems(t *testing.T) {
	for _, c := range []struct{ field, item, want string }{
		{"set entries", `gap=30`, "must start with the id of a song"},
		{"set entries", `ember gap=soon`, "gap=soon"},
		{"set entries", `ember loud`, `"loud" is not understood here; valid: song-id gap=`},
		{"set entries", `ember talk="open`, "never closed"},
		{"night cuts", `reason=x`, "names nothing"},
		{"night cuts", `family=comet cue=q1`, "names both"},
		{"night swaps", `family=comet`, "names no article"},
		{"night rig-changes", `bank=b1`, "changes nothing"},
		{"night shifts", `by=1`, "names no song"},
		{"night fills", `kg=1`, "names no supply"},
		{"night fills", `supply=c1 kg=heavy`, "mass in kg"},
		{"night accepted", `rule=recovery`, "needs rule=, by= and reason="},
		{"venue audience", `line from=1`, "x,y in metres"},
		{"devicetype slots", `3`, "block.number"},
		{"devicetype slots", `1.1 on=0..255`, "off must be outside"},
		{"devicetype slots", `1.1 on=0..300`, "above 255"},
		{"devicetype slots", `1.512 wide`, "runs past slot 512"},
		{"device starts", `1.513`, "slots 1 to 512"},
		{"device starts", `0`, "universe.slot"},
	} {
		f := fieldOf(t, c.field)
		err := f.Set(KindOf(firstWord(c.field)).New("x"), Value{Items: []string{c.item}})
		require.ErrorContains(t, err, c.want, c.item)
	}
}

func firstWord(s string) string {
	for i := range s {
		if s[i] == ' ' {
			return s[:i]
		}
	}
	return s
}

func fieldOf(t *testing.T, name string) *Field {
	kind := firstWord(name)
	f := KindOf(kind).Field(name[len(kind)+1:])
	require.NotNil(t, f, name)
	return f
}

// Running numbers, derived from 512 slots a universe (ANSI E1.11): 512 is 1.512,
// 513 is 2.1, 1024 is 2.512, 45 is 1.45. DIN SPEC 15801 (MVR) writes absolute
// addresses this way.
func TestPatch(t *testing.T) {
	for n, want := range map[string]string{"512": "1.512", "513": "2.1", "1024": "2.512", "45": "1.45"} {
		p, err := ParsePatch(n)
		require.NoError(t, err)
		require.Equal(t, want, p.String())
		q, err := ParsePatch(want)
		require.NoError(t, err)
		require.Equal(t, p, q)
		require.Equal(t, p, Patch{p.Universe, p.Slot})
	}
	require.Equal(t, 513, Patch{2, 1}.Absolute())
}

func FuzzWords(f *testing.F) {
	for _, s := range []string{`a b=c "d e"=f`, `a="\"\\"`, `=`, `""=""`, `a"b`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		ws, err := ParseWords(s)
		if err != nil {
			return
		}
		again, err := ParseWords(ws.String())
		if err != nil || again.String() != ws.String() || len(again) != len(ws) {
			t.Fatalf("%q: %v reads back as %v (%v)", s, ws, again, err)
		}
	})
}

// FuzzItems throws text at every list field of every kind: what is taken must
// read back as itself.
func FuzzItems(f *testing.F) {
	f.Add(`ember gap=30`)
	f.Add(`1.3 role=arm on=64..127`)
	f.Add(`wire=w3 unit=b2 output=4 why="bank A is dead"`)
	f.Add(`"no reports late" from=22:30 to=00:30 families=report,flash-pot`)
	f.Add(`1.4 name="fan left" at=2.17 role=condition head=1 on=128..255 off=0`)
	f.Add(`"fire department" number=12-7 by="Fire office" until=2031-06-01`)
	f.Add(`cyl after=ember kg=22.7 minutes=4.5 by="rigger 2"`)
	f.Add(`b2:1 misfired placed=c1 article=comet cleared-by="A. Name" cleared-note=soaked`)
	f.Fuzz(func(t *testing.T, s string) {
		for _, k := range Kinds() {
			for i := range k.Fields {
				field := &k.Fields[i]
				v := Value{Text: s}
				if field.Type == ListField {
					v = Value{Items: []string{s}}
				}
				r := k.New("x")
				if field.Set(r, v) != nil {
					continue
				}
				got := field.Get(r)
				again := k.New("x")
				if err := field.Set(again, got); err != nil || !field.Get(again).Equal(got) {
					t.Fatalf("%s %s: %q is written as %q, which reads as %q (%v)", k.Name, field.Name, s, got, field.Get(again), err)
				}
			}
		}
	})
}
