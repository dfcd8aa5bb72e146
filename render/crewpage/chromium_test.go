package crewpage

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline/testtool"
)

// chromium is a headless browser that is driven over two pipes by the DevTools
// protocol. Nothing of it touches the network.
type chromium struct {
	t       testing.TB
	in      *os.File
	mu      sync.Mutex
	next    int
	waiting map[int]chan answer
	session string

	events struct {
		sync.Mutex
		console  []string // errors and warnings that the page wrote, and what it threw
		requests []string // addresses that were asked for
		loaded   chan struct{}
	}
}

type answer struct {
	ID        int             `json:"id"`
	Method    string          `json:"method"`
	SessionID string          `json:"sessionId"`
	Params    json.RawMessage `json:"params"`
	Result    json.RawMessage `json:"result"`
	Error     *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// patience is how long a step of the browser may take before the test gives up: long,
// since the machine may be busy, and nothing is measured by it.
const patience = 90 * time.Second

// startChromium starts a browser with an empty profile; without one the test is left
// out, or fails where tools are required.
func startChromium(t testing.TB) *chromium {
	t.Helper()
	testtool.Need(t, "chromium")
	mine, theirs, err := os.Pipe() // what it says
	require.NoError(t, err)
	read, write, err := os.Pipe() // what it is told
	require.NoError(t, err)
	cmd := exec.Command("chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--remote-debugging-pipe", "--no-first-run", "--disable-extensions", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--disable-default-apps", "--no-default-browser-check", "--mute-audio", "--hide-scrollbars", "--force-device-scale-factor=1",
		"--autoplay-policy=no-user-gesture-required", "--user-data-dir="+filepath.Join(t.TempDir(), "profile"), "about:blank")
	cmd.ExtraFiles = []*os.File{read, theirs}
	require.NoError(t, cmd.Start())
	read.Close()
	theirs.Close()
	b := &chromium{t: t, in: write, waiting: map[int]chan answer{}}
	b.events.loaded = make(chan struct{}, 64)
	over := make(chan struct{})
	go func() { b.listen(mine); close(over) }()
	t.Cleanup(func() {
		write.Close()
		done := make(chan struct{})
		go func() { _ = cmd.Wait(); close(done) }()
		select {
		case <-done:
		case <-time.After(20 * time.Second):
			_ = cmd.Process.Kill()
			<-done
		}
		mine.Close()
		<-over
	})
	var target struct {
		TargetID string `json:"targetId"`
	}
	b.call("Target.createTarget", map[string]any{"url": "about:blank"}, &target)
	var attached struct {
		SessionID string `json:"sessionId"`
	}
	b.call("Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}, &attached)
	b.session = attached.SessionID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(domain+".enable", nil, nil)
	}
	return b
}

func (b *chromium) listen(from *os.File) {
	r := bufio.NewReaderSize(from, 1<<20)
	for {
		line, err := r.ReadBytes(0)
		if err != nil {
			return
		}
		var a answer
		if json.Unmarshal(line[:len(line)-1], &a) != nil {
			continue
		}
		if a.ID == 0 {
			b.event(&a)
			continue
		}
		b.mu.Lock()
		c := b.waiting[a.ID]
		delete(b.waiting, a.ID)
		b.mu.Unlock()
		if c != nil {
			c <- a
		}
	}
}

func (b *chromium) event(a *answer) {
	e := &b.events
	e.Lock()
	defer e.Unlock()
	switch a.Method {
	case "Page.loadEventFired":
		e.loaded <- struct{}{}
	case "Runtime.exceptionThrown", "Log.entryAdded":
		e.console = append(e.console, string(a.Params))
	case "Runtime.consoleAPICalled":
		e.console = append(e.console, string(a.Params))
	case "Network.requestWillBeSent":
		var p struct {
			Request struct {
				URL string `json:"url"`
			} `json:"request"`
		}
		_ = json.Unmarshal(a.Params, &p)
		e.requests = append(e.requests, p.Request.URL)
	}
}

// call asks the browser, and waits for its answer.
func (b *chromium) call(method string, params, result any) {
	b.t.Helper()
	b.mu.Lock()
	b.next++
	id := b.next
	c := make(chan answer, 1)
	b.waiting[id] = c
	b.mu.Unlock()
	msg := map[string]any{"id": id, "method": method}
	if params != nil {
		msg["params"] = params
	}
	if b.session != "" && !strings.HasPrefix(method, "Target.") && !strings.HasPrefix(method, "Browser.") {
		msg["sessionId"] = b.session
	}
	text, err := json.Marshal(msg)
	require.NoError(b.t, err)
	_, err = b.in.Write(append(text, 0))
	require.NoError(b.t, err)
	select {
	case a := <-c:
		if a.Error != nil {
			b.t.Fatalf("%s: %s", method, a.Error.Message)
		}
		if result != nil {
			require.NoError(b.t, json.Unmarshal(a.Result, result))
		}
	case <-time.After(patience):
		b.t.Fatalf("%s: the browser does not answer", method)
	}
}

// open loads a file and waits until it is loaded.
func (b *chromium) open(path string) {
	b.t.Helper()
	for len(b.events.loaded) > 0 {
		<-b.events.loaded
	}
	b.call("Page.navigate", map[string]any{"url": "file://" + path}, nil)
	select {
	case <-b.events.loaded:
	case <-time.After(patience):
		b.t.Fatal("the page does not load")
	}
}

// screen sets the size of the screen, in CSS pixels.
func (b *chromium) screen(wide, high int, phone bool) {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": phone}, nil)
	b.call("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": phone}, nil)
}

// eval gives the value of an expression, which may be a promise.
func (b *chromium) eval(expression string, into any) {
	b.t.Helper()
	var r struct {
		Result struct {
			Value json.RawMessage `json:"value"`
		} `json:"result"`
		Exception *struct {
			Text      string `json:"text"`
			Exception struct {
				Description string `json:"description"`
			} `json:"exception"`
		} `json:"exceptionDetails"`
	}
	b.call("Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true, "userGesture": true}, &r)
	if r.Exception != nil {
		b.t.Fatalf("%s: %s %s", expression, r.Exception.Text, r.Exception.Exception.Description)
	}
	if into != nil {
		require.NoError(b.t, json.Unmarshal(r.Result.Value, into), expression)
	}
}

// text gives the text of the first element that a selector finds.
func (b *chromium) text(selector string) string {
	b.t.Helper()
	var s string
	b.eval(fmt.Sprintf("document.querySelector(%q).innerText", selector), &s)
	return s
}

// until waits for a condition of the page to hold.
func (b *chromium) until(condition string) {
	b.t.Helper()
	b.eval(fmt.Sprintf(`new Promise((yes) => { const look = () => ((%s) ? yes(true) : requestAnimationFrame(look)); look(); })`, condition), nil)
}

// click presses the middle of the first element that a selector finds, as a finger or
// mouse does: what lies over it gets the press.
func (b *chromium) click(selector string) {
	b.t.Helper()
	var at struct {
		X, Y float64
		Over bool
	}
	b.eval(fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.scrollIntoView({ block: "center" }); const r = e.getBoundingClientRect();
		const X = r.left + r.width / 2, Y = r.top + r.height / 2; const hit = document.elementFromPoint(X, Y); return { X, Y, Over: hit === e || e.contains(hit) }; })()`, selector), &at)
	require.True(b.t, at.Over, "something lies over %s", selector)
	b.press(at.X, at.Y)
}

func (b *chromium) press(x, y float64) {
	b.t.Helper()
	for _, what := range []string{"mouseMoved", "mousePressed", "mouseReleased"} {
		p := map[string]any{"type": what, "x": x, "y": y, "button": "left", "clickCount": 1}
		if what == "mouseMoved" {
			p["button"] = "none"
		}
		b.call("Input.dispatchMouseEvent", p, nil)
	}
}

// key presses a key.
func (b *chromium) key(key, code, text string, number int) {
	b.t.Helper()
	down := map[string]any{"type": "keyDown", "key": key, "code": code, "windowsVirtualKeyCode": number}
	if text != "" {
		down["text"] = text
	}
	b.call("Input.dispatchKeyEvent", down, nil)
	b.call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": key, "code": code, "windowsVirtualKeyCode": number}, nil)
}

// typing types a text into what has the focus.
func (b *chromium) typing(text string) {
	b.t.Helper()
	b.call("Input.insertText", map[string]any{"text": text}, nil)
}

// shot keeps a picture of the screen for whoever wants to look at it, in the folder
// that EMBERBEAT_SHOTS names.
func (b *chromium) shot(name string) {
	b.t.Helper()
	dir := os.Getenv("EMBERBEAT_SHOTS")
	if dir == "" {
		return
	}
	var r struct{ Data string }
	b.call("Page.captureScreenshot", map[string]any{"format": "png"}, &r)
	png, err := base64.StdEncoding.DecodeString(r.Data)
	require.NoError(b.t, err)
	require.NoError(b.t, os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644))
}

// quiet says what the page complained of, and which addresses it asked for beside
// itself and what it made.
func (b *chromium) quiet() (console, requests []string) {
	b.events.Lock()
	defer b.events.Unlock()
	for _, url := range b.events.requests {
		if !strings.HasPrefix(url, "file://") && !strings.HasPrefix(url, "blob:") && url != "about:blank" {
			requests = append(requests, url)
		}
	}
	return b.events.console, requests
}
