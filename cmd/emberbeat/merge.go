package main

import (
	"context"
	"errors"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"emberbeat/shows"
	"emberbeat/shows/gitmerge"
	"emberbeat/shows/report/merged"
	"emberbeat/shows/session"
	"emberbeat/timeline"
	"emberbeat/timeline/merge"
)

// merging is what the verb is asked for.
type merging struct {
	*talk
	base, out                     string
	choose                        []string
	dry                           bool
	resolve, check, gitOn, gitOff bool
	driver                        bool
}

func mergeCommand(t *talk) *cobra.Command {
	m := &merging{talk: t}
	c := &cobra.Command{
		Use:   "merge SHOW THEIRS",
		Short: "join two people's edits of a show",
		Long: `Join two people's edits of one show, record by record and field by field. What
they did to different things is done, and nothing is asked; what they did to
the same thing in two ways is a conflict, and nothing of either is lost.
Comments and keys that this program does not know stay from both.

  merge SHOW THEIRS               theirs into SHOW, as one save
  merge BASE OURS THEIRS --out DIR   into a new folder
  merge SHOW --resolve            the conflicts that are not settled yet
  merge SHOW --check              after a merge by git: what it made

--base names the show that both started from: a folder, an older save (tour@3)
or a revision in a git repository (tour@HEAD~2). Without it, that kept save of
SHOW is taken which is nearest to THEIRS, and named. --choose settles
conflicts: ours, theirs, base or both, for all that offer it, or CONFLICT=ours
for one, by its number or key. What is not settled stays in the show with all
its choices, and the show opens all the same.

Findings that the joined show has and neither of the two are named: both loaded
one output, gave one address, took one hour of timecode.

--git-on lets git merge the files of the show in the same way, by lines in its
repository's .gitattributes and settings; --git-off takes them out again.

The exit code is 1 where a conflict is left, or the merge made a finding.`,
		Example: `  emberbeat merge tour colleague --base tour@1 --dry-run
  emberbeat merge before tour colleague --out joined --choose theirs
  emberbeat merge joined --resolve`,
		Args: m.takes,
		RunE: func(c *cobra.Command, args []string) error { return m.run(c.Context(), args) },
	}
	f := c.Flags()
	f.StringVar(&m.base, "base", "", "the show that both started from (default: the kept save nearest to THEIRS)")
	f.StringVar(&m.out, "out", "", "make the joined show in this new folder")
	f.StringArrayVar(&m.choose, "choose", nil, "settle conflicts: ours, theirs, base, both, or CONFLICT=SIDE")
	dryRunFlag(c, &m.dry)
	f.BoolVar(&m.resolve, "resolve", false, "list the conflicts that are not settled, or settle them with --choose")
	f.BoolVar(&m.check, "check", false, "say what a merge by git has made of the show")
	f.BoolVar(&m.gitOn, "git-on", false, "let git merge the files of the show like this")
	f.BoolVar(&m.gitOff, "git-off", false, "undo --git-on")
	f.BoolVar(&m.driver, "driver", false, "merge one file for git: BASE OURS THEIRS NAME")
	_ = f.MarkHidden("driver") // git alone calls it
	return c
}

// takes checks what stands after the verb, which hangs on what is asked for.
func (m *merging) takes(c *cobra.Command, args []string) error {
	words := []string{"SHOW", "THEIRS"}
	switch {
	case m.driver:
		words = []string{"BASE", "OURS", "THEIRS", "NAME"}
	case m.resolve, m.check, m.gitOn, m.gitOff:
		words = words[:1]
	case m.out != "":
		words = []string{"BASE", "OURS", "THEIRS"}
	case len(args) == 3:
		return hint(usage(errors.New("three shows are merged into a new folder, and none is named")), "add --out DIR, or merge SHOW THEIRS --base BASE")
	}
	return takes(words...)(c, args)
}

func (m *merging) run(ctx context.Context, args []string) error {
	switch {
	case m.driver:
		return m.file(args)
	case m.gitOn, m.gitOff:
		return m.git(args[0])
	case m.resolve:
		return m.settle(args[0])
	case m.check:
		return m.checkGit(args[0])
	case m.out != "":
		return m.intoNew(ctx, args[0], args[1], args[2])
	}
	return m.intoShow(ctx, args[0], args[1])
}

// join merges three shows, makes the choices that were asked for, and tells what
// it comes to.
func (m *merging) join(r *merged.Report, base, ours, theirs *timeline.Show) (*timeline.Show, error) {
	joined, err := merge.Shows(base, ours, theirs)
	if err != nil {
		return nil, usage(err)
	}
	choices, err := merge.Choices(joined.Conflicts, m.choose)
	if err != nil {
		return nil, usage(err)
	}
	show, left, err := merge.SettleAll(joined.Show, joined.Conflicts, choices)
	if err != nil {
		return nil, usage(err)
	}
	r.Fill(base, ours, theirs, show, joined, choices, left)
	return merge.WithOpen(show, left), nil
}

// tell writes the report, and ends with the exit code of what is left.
func (m *merging) tell(r *merged.Report) error {
	write := r.WriteText
	if m.json {
		write = r.WriteJSON
	}
	if err := m.writeOut("", write); err != nil {
		return err
	}
	if r.Open() {
		return errFindings
	}
	return nil
}

func (m *merging) intoNew(ctx context.Context, base, ours, theirs string) error {
	var of [3]*shows.Loaded
	for i, name := range []string{base, ours, theirs} {
		l, err := m.load(name)
		if err != nil {
			return err
		}
		of[i] = l
	}
	r := &merged.Report{Base: base, Ours: ours, Theirs: theirs}
	show, err := m.join(r, of[0].Show, of[1].Show, of[2].Show)
	if err != nil {
		return err
	}
	if m.dry {
		m.say("nothing is made: this is what the merge would come to")
		return m.tell(r)
	}
	if err := shows.Create(m.out, show); err != nil {
		return err
	}
	s, err := m.open(m.out, false)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	if err := m.bring(ctx, s, show, ours, theirs); err != nil {
		return err
	}
	return m.tell(r)
}

func (m *merging) intoShow(ctx context.Context, ours, theirs string) error {
	s, err := m.open(ours, m.dry)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	other, err := m.load(theirs)
	if err != nil {
		return err
	}
	base, name, err := m.baseOf(ours, theirs, s.Show(), other.Show)
	if err != nil {
		return err
	}
	r := &merged.Report{Base: name, Ours: ours, Theirs: theirs}
	show, err := m.join(r, base, s.Show(), other.Show)
	if err != nil {
		return err
	}
	if !m.dry {
		if err := m.bring(ctx, s, show, theirs); err != nil {
			return err
		}
	}
	before := s.Show()
	next, err := m.apply(s, "merge "+theirs, m.dry, timeline.Toward(show))
	if err != nil {
		return err
	}
	m.sayChanges(len(timeline.Diff(before, next)), m.dry)
	return m.tell(r)
}

// baseOf gives the show that both started from, and its name.
func (m *merging) baseOf(dir, named string, ours, theirs *timeline.Show) (*timeline.Show, string, error) {
	if m.base != "" {
		l, err := m.load(m.base)
		if err != nil {
			return nil, "", err
		}
		return l.Show, m.base, nil
	}
	if _, v, err := shows.Named(named); err == nil && v != nil && v.Rev != "" {
		at, err := gitmerge.Base(dir, v.Rev)
		if err != nil {
			return nil, "", usage(err)
		}
		m.say("base: %s@%s, where the two revisions part", dir, at)
		l, err := m.load(dir + "@" + at)
		if err != nil {
			return nil, "", err
		}
		return l.Show, dir + "@" + at, nil
	}
	base, name, what, err := session.StartedFrom(dir, ours, theirs)
	switch {
	case errors.Is(err, session.ErrNoStart):
		return nil, "", hint(usage(err), "name the show that both started from with --base")
	case errors.Is(err, merge.ErrOther):
		return nil, "", usage(err)
	case err != nil:
		return nil, "", err
	}
	m.say("base: %s, %s, which is nearest to theirs; --base names another", name, what)
	return base, name, nil
}

// bring copies the recordings that come in, from the folders that have them.
func (m *merging) bring(ctx context.Context, s *session.Session, show *timeline.Show, from ...string) error {
	var missing []string
	for _, name := range from {
		dir, _, err := shows.Named(name)
		if err != nil {
			return usage(err)
		}
		var copied []string
		if copied, missing, err = s.BringRecordings(ctx, show, dir); err != nil {
			return err
		}
		for _, file := range copied {
			m.say("copied in: %s", file)
		}
	}
	for _, file := range missing {
		m.warn("%s is missing, and is not the same in %s", file, strings.Join(from, " or "))
	}
	return nil
}

// settle lists the conflicts of a show, or makes choices in them.
func (m *merging) settle(dir string) error {
	s, err := m.open(dir, m.dry || len(m.choose) == 0)
	if err != nil {
		return err
	}
	defer s.Close() // cannot fail: there is no journal to close
	list, err := merge.Open(s.Show())
	if err != nil {
		m.warn("%v", err)
	}
	choices, err := merge.Choices(list, m.choose)
	if err != nil {
		return usage(err)
	}
	show, left, err := merge.SettleAll(s.Show(), list, choices)
	if err != nil {
		return usage(err)
	}
	if len(choices) > 0 {
		before := s.Show()
		next, err := m.apply(s, "settle conflicts of a merge", m.dry, timeline.Toward(show))
		if err != nil {
			return err
		}
		if !m.json {
			if err := m.printChanges(before, next, m.dry); err != nil {
				return err
			}
		}
	}
	r := merged.NewResolved(list, choices, left)
	if len(left) == 0 {
		m.say("no conflict is left")
	}
	return m.tell(r)
}

// file merges one file for git, which goes by the exit code.
func (m *merging) file(args []string) error {
	done, err := gitmerge.File(args[0], args[1], args[2], args[3])
	switch {
	case err != nil:
		return fileFailure(err)
	case done.Plain != nil:
		m.say("%s is merged line by line, as git does it: %v", args[3], done.Plain)
	case len(done.Conflicts) > 0:
		m.say("%s keeps %d conflicts to be settled: emberbeat merge SHOW --resolve", args[3], len(done.Conflicts))
	}
	if !done.Clean {
		return errFindings
	}
	return nil
}

func (m *merging) git(dir string) error {
	turn := gitmerge.Undo
	if m.gitOn {
		turn = func(dir string) (gitmerge.Done, error) {
			self, err := os.Executable()
			if err != nil {
				return nil, err
			}
			return gitmerge.SetUp(dir, self)
		}
	}
	done, err := turn(dir)
	for _, s := range done {
		m.say("%s", s)
	}
	if err == nil && len(done) == 0 {
		m.say("nothing was to be done")
	}
	return err
}

// checkGit says what a merge by git has made of a show.
func (m *merging) checkGit(dir string) error {
	base, ours, theirs, err := gitmerge.Parents(dir)
	if err != nil {
		return usage(err)
	}
	r := &merged.Report{Base: dir + "@" + base, Ours: dir + "@" + ours, Theirs: dir + "@" + theirs}
	var of [3]*timeline.Show
	for i, name := range []string{r.Base, r.Ours, r.Theirs} {
		l, err := loadNamed(name)
		if err != nil {
			return err
		}
		of[i] = l.Show
	}
	is, err := m.load(dir)
	if err != nil {
		return err
	}
	left, err := merge.Open(is.Show)
	if err != nil {
		m.warn("%v", err)
	}
	r.Fill(of[0], of[1], of[2], is.Show, &merge.Result{Show: is.Show}, nil, left)
	r.Notes = append(r.Notes, merged.Lost(of[1], of[2], is.Show)...)
	if !r.Open() && len(r.Notes) == 0 {
		m.say("the merge made no finding, and nothing is left to be settled")
	}
	return m.tell(r)
}
