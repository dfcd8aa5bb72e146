package app

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
	"emberbeat/timeline/operation"
)

// bothWays is an operation as its form is filled in and as its verb is written.
type bothWays struct {
	command string // that opens the form
	form    []string
	verb    map[string][]string // texts by argument
	op      *operation.Operation
	on      timeline.Ref
	page    string        // on which it is done
	choose  func(h *hand) // what was chosen there, nil for nothing
	plan    func(*hand) *timeline.Plan
}

// What a form comes to is what the verb comes to with the same values: one wording, the same changes, and the same forecast of what plays
// otherwise and which findings come and go.
func TestFormsComeToWhatVerbsDo(t *testing.T) {
	saltglass, quay := timeline.Ref{Kind: "venue", ID: "saltglass"}, timeline.Ref{Kind: "set", ID: "quay"}
	venue := func(name string, form []string, verb map[string][]string) bothWays {
		return bothWays{command: "venue-" + name, form: form, verb: verb, op: operation.Find("venue", name), on: saltglass, page: "book-venues"}
	}
	set := func(command, name string, form []string, verb map[string][]string) bothWays {
		return bothWays{command: command, form: form, verb: verb, op: operation.Find("set", name), on: quay, page: "book-sets",
			choose: func(h *hand) { h.sets().Show("quay"); h.step(); h.sets().Rows.Only(0) },
			plan: func(h *hand) *timeline.Plan {
				return timeline.Compile(h.a.work.Session.Show(), &timeline.Night{Set: "quay"})
			}}
	}
	ruleset := func(name string, on timeline.Ref, form []string, verb map[string][]string) bothWays {
		return bothWays{command: "ruleset-" + name, form: form, verb: verb, op: operation.Find("ruleset", name), on: on, page: "book-venues"}
	}
	for _, c := range []bothWays{
		venue("trim", []string{"trim", "7.5"}, map[string][]string{"trim": {"7.5"}}),
		venue("line", []string{"name", "side", "from", "-9.5,-3", "to", "-9.5,8"}, map[string][]string{"name": {"side"}, "from": {"-9.5,-3"}, "to": {"-9.5,8"}}),
		venue("performer", []string{"name", "dancer", "at", "2,3", "radius", "1", "song", "b1p4ffnh", "from", "62", "to", "80"},
			map[string][]string{"name": {"dancer"}, "at": {"2,3"}, "radius": {"1"}, "song": {"Slow Matches"}, "from": {"62"}, "to": {"80"}}),
		venue("clear", []string{"name", "exit", "at", "8,1"}, map[string][]string{"name": {"exit"}, "at": {"8,1"}}),
		venue("quiet", []string{"name", "late", "from", "22:30", "to", "23:30", "families", "family=flash-pot"}, map[string][]string{"name": {"late"}, "from": {"22:30"}, "to": {"23:30"}, "families": {"family=flash-pot"}}),
		venue("ban", []string{"what", "comet; article=cold-six"}, map[string][]string{"what": {"comet", "article=Cold jet, 6 m"}}),
		venue("allow", []string{"what", "propane-flame"}, map[string][]string{"what": {"family=propane-flame"}}),
		venue("condition", []string{"text", "fire watch"}, map[string][]string{"text": {"fire watch"}}),
		venue("distance", []string{"to", "audience", "at-least", "9", "from", "family=comet", "reason", "4.2"}, map[string][]string{"to": {"audience"}, "metres": {"9"}, "from": {"family=comet"}, "reason": {"4.2"}}),
		venue("back", []string{"action", "line 1"}, map[string][]string{"action": {"line"}, "n": {"1"}}),
		ruleset("choose", saltglass, []string{"id", "nyc-fc-2014"}, map[string][]string{"id": {"New York City Fire Code, FC 3309.12"}}),
		ruleset("add", timeline.Ref{}, []string{"name", "Bye-law", "mark", "measured", "wind", "8"}, map[string][]string{"name": {"Bye-law"}, "mark": {"measured"}, "wind": {"8"}}),
		ruleset("copy", timeline.Ref{}, []string{"id", "victoria-2011"}, map[string][]string{"id": {"victoria-2011"}}),
		set("set-move", "move", []string{"n", "3"}, map[string][]string{"song": {"1"}, "n": {"3"}}),
		set("set-gap", "gap", []string{"seconds", "45", "talk", "thanks"}, map[string][]string{"song": {"1"}, "seconds": {"45"}, "talk": {"thanks"}}),
		set("set-songs", "in", []string{"songs", "ember"}, map[string][]string{"songs": {"ember"}}),
		{command: "rule-tune", form: []string{"checked", "false", "reason", "by hand", "scope", "family=comet"}, op: operation.Find("rule", ""), page: "book-rules",
			verb:   map[string][]string{"rule": {"recovery"}, "off": {"true"}, "reason": {"by hand"}, "scope": {"family=comet"}, "severity": {"own"}},
			choose: func(h *hand) { h.a.tableOf("rules").Choose("recovery"); h.step() }},
	} {
		t.Run(c.op.ID(), func(t *testing.T) { c.check(t) })
	}
}

func (c *bothWays) check(t *testing.T) {
	h := withExample(t)
	h.a.goNight(h.a.work.Show.Nights[0].ID)
	require.True(t, h.a.Use(c.page))
	h.checked()
	if c.choose != nil {
		c.choose(h)
	}
	s := h.a.work.Session
	if c.command == "set-songs" { // one that the set does not hold
		c.form[1] = h.sets().NotIn()[0].Value
		c.verb["songs"] = []string{c.form[1]}
	}
	require.True(t, h.a.Use(c.command))
	h.give(c.form...)
	f := h.form()
	require.Empty(t, f.why())
	shown := h.foreseen()
	require.NoError(t, shown.Err)
	byForm, err := s.Show().Edit(f.out.change.edits...)
	require.NoError(t, err)

	p := s.Plan("")
	if c.plan != nil {
		p = c.plan(h)
	}
	args := c.op.New()
	for name, texts := range c.verb {
		require.NoError(t, c.op.Arg(name).Give(p, args, texts...), name)
	}
	at := h.a.operationAt(c.on)
	at.Plan = p
	edit, err := c.op.Edit(at, args)
	require.NoError(t, err)
	byVerb, err := s.Show().Edit(edit)
	require.NoError(t, err)
	require.NotEmpty(t, timeline.Diff(s.Show(), byVerb))
	require.Equal(t, timeline.Diff(s.Show(), byVerb), timeline.Diff(s.Show(), byForm))
	require.Equal(t, c.op.Say(s.Show(), args), f.out.change.label)

	tried, err := s.Try(edit)
	require.NoError(t, err)
	each, err := s.Foresee(context.Background(), tried, tried.On(h.a.work.Night))
	require.NoError(t, err)
	require.Equal(t, each[0].Cues, shown.Cues)
	require.Equal(t, each[0].Findings, shown.Findings)
}
