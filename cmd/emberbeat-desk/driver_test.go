package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
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
	id      string // the window's
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

// pressTime is how long a key or button is held: the window looks at them once
// a frame, and a frame takes long without a graphics card.
const pressTime = 60 * time.Millisecond

// startScreen starts a virtual screen of 1440×900 and the program on it.
func startScreen(t *testing.T, env []string, args ...string) *screen {
	t.Helper()
	s := &screen{t: t, ended: make(chan struct{})}
	read, write, err := os.Pipe()
	require.NoError(t, err)
	s.server = exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1440x900x24", "-nolisten", "tcp", "-noreset")
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
	s.until(30*time.Second, "a window", func() bool {
		ids := strings.Fields(s.tool("xdotool", "search", "--onlyvisible", "--pid", strconv.Itoa(s.app.Process.Pid)))
		if len(ids) > 0 {
			s.id = ids[len(ids)-1]
		}
		return s.id != ""
	})
	s.tool("xdotool", "windowfocus", "--sync", s.id)
	return s
}

// stop ends what startScreen started.
func (s *screen) stop() {
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

// tool runs a program on the screen and gives what it prints; that it may fail
// is part of waiting.
func (s *screen) tool(args ...string) string {
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Env = s.env
	out, _ := cmd.Output()
	return string(out)
}

func (s *screen) until(limit time.Duration, what string, ready func() bool) {
	s.t.Helper()
	for end := time.Now().Add(limit); !ready(); time.Sleep(50 * time.Millisecond) {
		require.True(s.t, time.Now().Before(end), "waited %s in vain for %s; the program wrote:\n%s", limit, what, s.log.String())
	}
}

// logged waits for a new line that matches and uses up all before it.
func (s *screen) logged(pattern string, limit time.Duration) {
	s.t.Helper()
	want := regexp.MustCompile(`(?m)` + pattern)
	s.until(limit, "a line like "+pattern, func() bool {
		at := want.FindStringIndex(s.log.String()[s.checked:])
		if at == nil {
			return false
		}
		s.checked += at[1]
		return true
	})
}

func (s *screen) pointTo(x, y int) {
	s.tool("xdotool", "mousemove", "--window", s.id, strconv.Itoa(x), strconv.Itoa(y))
	time.Sleep(pressTime)
}

func (s *screen) button(press string) {
	s.tool("xdotool", press, "1")
	time.Sleep(pressTime)
}

// drag presses at one place, goes to another in small steps, and releases.
func (s *screen) drag(x1, y1, x2, y2 int) {
	const steps = 12
	s.pointTo(x1, y1)
	s.button("mousedown")
	for i := 1; i <= steps; i++ {
		s.pointTo(x1+(x2-x1)*i/steps, y1+(y2-y1)*i/steps)
	}
	s.button("mouseup")
}

// do takes one step of a script: a verb and what it needs.
//
//	click X Y · dblclick X Y · drag X1 Y1 X2 Y2 · key CHORD · type TEXT · size W H
//	again REGEXP STEP: the step, up to four times until such a line is logged
//	log REGEXP [SECONDS] · file PATH · wait SECONDS · kill · gone · alive
func (s *screen) do(line string) {
	s.t.Helper()
	verb, rest, _ := strings.Cut(line, " ")
	var n [4]int
	fmt.Sscan(rest, &n[0], &n[1], &n[2], &n[3])
	switch verb {
	case "click":
		s.pointTo(n[0], n[1])
		s.button("mousedown")
		s.button("mouseup")
	case "dblclick": // in one call: a busy machine may take long to start the next
		s.pointTo(n[0], n[1])
		s.tool("xdotool", "mousedown", "1", "sleep", "0.05", "mouseup", "1", "sleep", "0.07", "mousedown", "1", "sleep", "0.05", "mouseup", "1")
	case "drag":
		s.drag(n[0], n[1], n[2], n[3])
	case "key":
		s.tool("xdotool", "key", "--delay", "40", rest)
		time.Sleep(pressTime)
	case "type":
		s.tool("xdotool", "type", "--delay", "40", "--", rest)
	case "size":
		s.tool("xdotool", "windowsize", "--sync", s.id, strconv.Itoa(n[0]), strconv.Itoa(n[1]))
	case "again":
		s.doAgain(rest)
	case "log":
		s.doLog(rest)
	case "file":
		s.until(10*time.Second, rest, func() bool { info, err := os.Stat(rest); return err == nil && info.Size() > 0 })
	case "wait":
		d, err := time.ParseDuration(rest + "s")
		require.NoError(s.t, err)
		time.Sleep(d)
	case "kill":
		s.app.Process.Kill()
	case "gone":
		s.until(10*time.Second, "the end of the program", s.gone)
	case "alive":
		require.False(s.t, s.gone(), "the program has ended:\n%s", s.log.String())
	default:
		require.Fail(s.t, "unknown step", line)
	}
}

// doAgain repeats a step that a busy machine can swallow: two clicks inside one slow frame are one to the window.
func (s *screen) doAgain(rest string) {
	s.t.Helper()
	pattern, step, _ := strings.Cut(rest, " ")
	want := regexp.MustCompile(`(?m)` + pattern)
	for range 4 {
		s.do(step)
		for end := time.Now().Add(3 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			if want.MatchString(s.log.String()[s.checked:]) {
				s.logged(pattern, time.Second)
				return
			}
		}
	}
	require.Fail(s.t, "it had no effect: "+rest, s.log.String())
}

func (s *screen) doLog(rest string) {
	s.t.Helper()
	limit := 10 * time.Second
	if i := strings.LastIndexByte(rest, ' '); i > 0 {
		if n, err := strconv.Atoi(rest[i+1:]); err == nil {
			rest, limit = rest[:i], time.Duration(n)*time.Second
		}
	}
	s.logged(rest, limit)
}
