package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// screen is a virtual screen with the program on it, used through the pointer
// and the keyboard alone, and read through the lines it logs.
type screen struct {
	t       *testing.T
	server  *exec.Cmd
	app     *exec.Cmd
	env     []string
	id      string         // the window's
	hands   io.WriteCloser // of a person: lines for xdotool, which does one after the other
	tool    *exec.Cmd      // that takes them
	ending  bool           // what is done now may end the program
	aside   int            // counts moves of the pointer to where it does nothing
	log     logBook
	ended   chan struct{}
	checked int // bytes of the log that earlier steps have used
}

// logBook is what the program has written, readable while it writes.
type logBook struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *logBook) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *logBook) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

// hang is longer than anything takes on the slowest machine: it ends a test that
// waits for what will never be. Nothing else here is decided by time.
const hang = 5 * time.Minute

// lookEvery is how often the log is looked at; how often decides nothing.
const lookEvery = 5 * time.Millisecond

// screenHigh is the height of the virtual screen.
const screenHigh = 900

// startScreen starts a virtual screen of 1440×900 and the program on it.
func startScreen(t *testing.T, env []string, args ...string) *screen {
	t.Helper()
	s := &screen{t: t, ended: make(chan struct{})}
	read, write, err := os.Pipe()
	require.NoError(t, err)
	s.server = exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("1440x%dx24", screenHigh), "-nolisten", "tcp", "-noreset", "-r") // -r: where all is slow a key would repeat before it is let go
	s.server.ExtraFiles = []*os.File{write}
	require.NoError(t, s.server.Start())
	write.Close()
	number, err := io.ReadAll(read) // to its end: the server would not outlive a closed pipe
	read.Close()
	require.NoError(t, err)
	require.NotEmpty(t, number, "no virtual screen came up")
	s.env = append(append(os.Environ(), env...), "DISPLAY=:"+strings.TrimSpace(string(number)), "WAYLAND_DISPLAY=")
	s.app = exec.Command(args[0], args[1:]...)
	s.app.Env, s.app.Stdout, s.app.Stderr = s.env, &s.log, &s.log
	require.NoError(t, s.app.Start())
	go func() {
		s.app.Wait()
		close(s.ended)
	}()
	s.until("a window", func() bool {
		ids := strings.Fields(s.output("xdotool", "search", "--onlyvisible", "--pid", strconv.Itoa(s.app.Process.Pid)))
		if len(ids) > 0 {
			s.id = ids[len(ids)-1]
		}
		return s.id != ""
	})
	s.output("xdotool", "windowfocus", "--sync", s.id)
	s.tool = exec.Command("xdotool", "-")
	s.tool.Env, s.tool.Stderr = s.env, &s.log
	s.hands, err = s.tool.StdinPipe()
	require.NoError(t, err)
	require.NoError(t, s.tool.Start())
	return s
}

// stop ends what startScreen started.
func (s *screen) stop() {
	if s.hands != nil {
		s.hands.Close()
		s.tool.Wait()
	}
	if !s.gone() {
		s.app.Process.Kill()
		<-s.ended
	}
	s.server.Process.Signal(syscall.SIGTERM)
	s.server.Wait()
}

func (s *screen) gone() bool {
	select {
	case <-s.ended:
		return true
	default:
		return false
	}
}

// output runs a program on the screen and gives what it prints; that it may fail
// is part of waiting.
func (s *screen) output(args ...string) string {
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Env = s.env
	out, _ := cmd.Output()
	return string(out)
}

func (s *screen) until(what string, ready func() bool) {
	s.t.Helper()
	for end := time.Now().Add(hang); !ready(); time.Sleep(lookEvery) {
		if s.gone() && s.ending {
			return
		}
		require.False(s.t, s.gone() && !ready(), "the program has ended before %s; it wrote:\n%s", what, s.log.String())
		require.True(s.t, time.Now().Before(end), "waited %s in vain for %s; the program wrote:\n%s", hang, what, s.log.String())
	}
}

// lineLike is a pattern of whole lines: those of what a person does are not
// taken for what the program says of itself.
func lineLike(pattern string) *regexp.Regexp { return regexp.MustCompile(`(?m)^` + pattern + `.*\n`) }

// logged waits for a new line that begins with a match and uses up all before it.
func (s *screen) logged(pattern string) {
	s.t.Helper()
	want := lineLike(pattern)
	s.until("a line like "+pattern, func() bool {
		at := want.FindStringIndex(s.log.String()[s.checked:])
		if at == nil {
			return false
		}
		s.checked += at[1]
		return true
	})
}

// took is what the program says of a person's hands, once it has done what they ask.
var took = regexp.MustCompile(`(?m)^took (\d+),(\d+) buttons=(\d+) mods=(\d+) clicks=(\d+) ms=(\d+) keys=(.*) text=(".*")\n`)

// hand does something with the pointer or the keyboard.
func (s *screen) hand(format string, args ...any) {
	s.t.Helper()
	_, err := fmt.Fprintf(s.hands, format+"\n", args...)
	require.NoError(s.t, err)
}

// settled waits until the program has taken in where the pointer is, which
// buttons are held, and that no key is.
func (s *screen) settled(x, y, buttons int) {
	s.t.Helper()
	want := []string{strconv.Itoa(x), strconv.Itoa(y), strconv.Itoa(buttons), "0"}
	s.until("hands as in "+strings.Join(want, " "), func() bool {
		all := took.FindAllStringSubmatch(s.log.String(), -1)
		return len(all) > 0 && slices.Equal(all[len(all)-1][1:5], want)
	})
}

func (s *screen) pointTo(x, y, buttons int) {
	s.t.Helper()
	s.hand("mousemove --window %s %d %d", s.id, x, y)
	s.settled(x, y, buttons)
}

func (s *screen) click(x, y int) {
	s.t.Helper()
	s.hand("mousedown 1")
	s.settled(x, y, 1)
	s.hand("mouseup 1")
	s.settled(x, y, 0)
}

// pointAside moves the pointer to where it does nothing: the end of the status
// bar. What was done before is taken in before it or with it, since a screen
// tells of things in their order; and the window looks at every frame for a
// while after.
func (s *screen) pointAside() {
	s.t.Helper()
	size := regexp.MustCompile(`(?m)^size (\d+)x(\d+) `).FindAllStringSubmatch(s.log.String(), -1)
	require.NotEmpty(s.t, size, "the window has no size yet")
	high, err := strconv.Atoi(size[len(size)-1][2])
	require.NoError(s.t, err)
	s.aside++
	s.pointTo(s.aside%2, min(high, screenHigh)-1, 0)
}

// enter presses a key or types and waits until that is done. A window at rest
// may miss a key that is down for a moment only, so that it is pressed again;
// that it was missed is certain, as the pointer's move after it was not.
func (s *screen) enter(line string, arrived func(keys, text string) bool) {
	s.t.Helper()
	for end := time.Now().Add(hang); ; {
		s.pointAside()
		from := len(s.log.String())
		s.hand("%s", line)
		s.pointAside()
		var keys, text string
		for _, m := range took.FindAllStringSubmatch(s.log.String()[from:], -1) {
			part, err := strconv.Unquote(m[8])
			require.NoError(s.t, err, m[0])
			keys, text = keys+m[7], text+part
		}
		if arrived(keys, text) {
			return
		}
		require.Empty(s.t, keys+text, "%s: not all of it was taken in", line)
		require.True(s.t, time.Now().Before(end), "%s is not taken in; the program wrote:\n%s", line, s.log.String())
	}
}

func (s *screen) key(chord string) {
	s.t.Helper()
	s.enter("key --delay 0 "+chord, func(keys, _ string) bool { return keys != "" })
}

// drag presses at one place, goes to another in small steps, and releases.
func (s *screen) drag(x1, y1, x2, y2 int) {
	const steps = 12
	s.pointTo(x1, y1, 0)
	s.hand("mousedown 1")
	s.settled(x1, y1, 1)
	for i := 1; i <= steps; i++ {
		s.pointTo(x1+(x2-x1)*i/steps, y1+(y2-y1)*i/steps, 1)
	}
	s.hand("mouseup 1")
	s.settled(x2, y2, 0)
}

// do takes one step of a script: a verb and what it needs.
//
//	click X Y · drag X1 Y1 X2 Y2 · key CHORD · type TEXT · size W H
//	dblclick REGEXP X Y: twice, which logs such a line; Return does the same
//	log REGEXP · file PATH · alive · kill · quit CHORD: the end of the program
func (s *screen) do(line string) {
	s.t.Helper()
	verb, rest, _ := strings.Cut(line, " ")
	var n [4]int
	fmt.Sscan(rest, &n[0], &n[1], &n[2], &n[3])
	switch verb {
	case "click":
		s.pointTo(n[0], n[1], 0)
		s.click(n[0], n[1])
	case "dblclick":
		s.doubleClick(rest)
	case "drag":
		s.drag(n[0], n[1], n[2], n[3])
	case "key":
		s.key(rest)
	case "quit":
		s.ending = true
		s.key(rest)
		s.end()
	case "type":
		s.enter("type --delay 0 '"+rest+"'", func(_, text string) bool { return text == rest })
	case "size":
		s.hand("windowsize %s %d %d", s.id, n[0], n[1])
		s.logged(fmt.Sprintf("size %dx%d ", n[0], n[1]))
	case "log":
		s.logged(rest)
	case "file":
		s.until(rest, func() bool { info, err := os.Stat(rest); return err == nil && info.Size() > 0 })
	case "kill":
		s.app.Process.Kill()
		s.end()
	case "alive":
		require.False(s.t, s.gone(), "the program has ended:\n%s", s.log.String())
	default:
		require.Fail(s.t, "unknown step", line)
	}
}

// end waits until the program has ended.
func (s *screen) end() {
	s.t.Helper()
	select {
	case <-s.ended:
	case <-time.After(hang):
		require.Fail(s.t, "the program does not end", s.log.String())
	}
}

// surelyTwice is the time in ms within which two presses are a double click to
// anybody; the window allows more.
const surelyTwice = 300

// doubleClick clicks twice, and looks that the window takes it for a double
// click, which does what the pattern says. A window whose frames come too slowly
// cannot see two presses that soon one after the other; where that is so again
// and again the keyboard does it.
func (s *screen) doubleClick(rest string) {
	s.t.Helper()
	pattern, place, _ := strings.Cut(rest, " ")
	var x, y int
	fmt.Sscan(place, &x, &y)
	for range 20 {
		s.pointAside()
		s.pointTo(x, y, 0)
		from := len(s.log.String())
		s.click(x, y)
		s.click(x, y)
		var at []int
		twice := false
		for _, m := range took.FindAllStringSubmatch(s.log.String()[from:], -1) {
			if m[5] != "0" {
				ms, err := strconv.Atoi(m[6])
				require.NoError(s.t, err, m[0])
				at, twice = append(at, ms), twice || m[5] == "2"
			}
		}
		require.Len(s.t, at, 2, s.log.String())
		require.True(s.t, twice || at[1]-at[0] > surelyTwice, "two presses %d ms apart are no double click", at[1]-at[0])
		if twice {
			s.logged(pattern)
			return
		}
	}
	s.t.Log("frames come too slowly for a double click")
	s.key("Return")
	s.logged(pattern)
}
