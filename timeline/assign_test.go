package timeline

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParseAssignment(t *testing.T) {
	for _, c := range []struct {
		text string
		want Assignment
	}{
		{"lead=0.12", Assignment{"lead", AssignSet, "0.12"}},
		{"note=", Assignment{"note", AssignSet, ""}},
		{"note=a=b", Assignment{"note", AssignSet, "a=b"}},
		{"members+=j3", Assignment{"members", AssignAdd, "j3"}},
		{"starts-=1.45", Assignment{"starts", AssignRemove, "1.45"}},
		{"pre-roll=5", Assignment{"pre-roll", AssignSet, "5"}},
	} {
		a, err := ParseAssignment(c.text)
		require.NoError(t, err, c.text)
		require.Equal(t, c.want, a, c.text)
	}
	for _, text := range []string{"", "lead", "=1", "+=1", "-=1"} {
		_, err := ParseAssignment(text)
		require.ErrorContains(t, err, "write key=value", text)
	}
}

// One line a case: what is assigned to which record, and what the field holds
// then, or what the error says.
func TestAssign(t *testing.T) {
	s := small(t)
	p := Compile(s, nil)
	for _, c := range []struct{ record, assign, field, want string }{
		{"article:jet", "lead=0.2", "lead", "0.2000"},
		{"group:jets", "members=f1; f2", "members", "f1; f2"},
		{"group:jets", "members=", "members", ""},
		{"group:jets", "members+=Flame 1", "members", "j1; j2; f1"}, // by name
		{"group:jets", "members-=j1", "members", "j2"},
		{"group:jets", "members-=JET 2", "members", "j1"},
		{"lane:ember/ljet", "target=all flames", "target", "flames"},
		{"set:main", "entries+=ember encore", "entries", "ember gap=8.0000; tide; ember encore"},
		{"set:main", "entries+=Tide gap=2", "entries", "ember gap=8.0000; tide; tide gap=2.0000"},
		{"set:main", "entries-=tide", "entries", "ember gap=8.0000"},
		{"set:main", `entries=ember talk="thanks; good night"; tide`, "entries", `ember talk="thanks; good night"; tide`},
		{"cue:ember/q1", "at=01:00:02:05", "at", "0:02.2000"}, // timecode through the song's start
		{"cue:ember/q1", "at=4.2+1/3", "at", "4.2+1/3"},
		{"song:ember", "locks+=bpm=120", "locks", "bpm=120"},
	} {
		ref, err := p.FindRecord(c.record)
		require.NoError(t, err)
		a, err := ParseAssignment(c.assign)
		require.NoError(t, err)
		next, err := s.Edit(p.Assign(ref, a))
		require.NoError(t, err, c.assign)
		k := KindOf(ref.Kind)
		require.Equal(t, c.want, k.Field(c.field).Get(k.Find(next, ref.Song, ref.ID)).String(), c.assign)
	}
	for _, c := range []struct{ record, assign, want string }{
		{"article:jet", "lead+=0.2", "this field holds one value"},
		{"article:jet", "colour+=red", "is no field of this kind; fields: name"},
		{"group:jets", "members-=f1", `group members: "f1": is not in the list: jet 1; jet 2`},
		{"group:jets", "members+=jets", "names no placed"},
		{"set:main", "entries+=storm", "names no song"},
		{"cue:ember/q1", "at=01:00:02:25", "frames run from 00 to 24"},
	} {
		ref, err := p.FindRecord(c.record)
		require.NoError(t, err)
		a, err := ParseAssignment(c.assign)
		require.NoError(t, err)
		_, err = s.Edit(p.Assign(ref, a))
		require.ErrorContains(t, err, c.want, c.assign)
	}
}

func TestAdd(t *testing.T) {
	s := small(t)
	p := Compile(s, nil)
	next, err := s.Edit(p.Add(Ref{Kind: "song", ID: "x1"}, Assignment{"title", AssignSet, "Ember"}))
	require.NoError(t, err)
	require.Equal(t, "ember-2", next.Song("x1").Slug)
	next, err = s.Edit(p.Add(Ref{Kind: "cue", Song: "ember", ID: "x1"}, Assignment{"lane", AssignSet, "jets"}, Assignment{"at", AssignSet, "9"}))
	require.NoError(t, err)
	require.Equal(t, ID("ljet"), next.Song("ember").Cue("x1").Lane)
	for _, c := range []struct {
		ref  Ref
		set  string
		want string
	}{
		{Ref{Kind: "show", ID: "x"}, "title=x", "no further record"},
		{Ref{Kind: "article", ID: "jet"}, "name=x", "article:jet is there already"},
		{Ref{Kind: "article", ID: "Bad Id"}, "name=x", "is no id"},
		{Ref{Kind: "cue", Song: "gone", ID: "x"}, "at=1", "no such record"},
		{Ref{Kind: "placed", ID: "x"}, "article=gone", "names no article"},
	} {
		a, err := ParseAssignment(c.set)
		require.NoError(t, err)
		_, err = s.Edit(p.Add(c.ref, a))
		require.ErrorContains(t, err, c.want)
	}
}
