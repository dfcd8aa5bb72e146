package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const module = "emberbeat"

// rooms is the table of the house: how many lines each room may have without
// its tests, and which of our packages it may import. A new folder needs a row. A
// room that comes to its ceiling is parted by its second noun, or has the ceiling
// raised by whoever has looked for one.
var rooms = map[string]row{
	"timeline":                   upTo(18500, "timeline/field", "timeline/figure", "timeline/units"),
	"timeline/units":             upTo(350),
	"timeline/figure":            upTo(1000),
	"timeline/field":             upTo(500, "timeline/units"),
	"timeline/reach":             upTo(500, "timeline", "timeline/figure"),
	"timeline/course":            upTo(200, "timeline"),
	"timeline/rule":              upTo(12000, "timeline", "timeline/units", "timeline/figure", "timeline/reach", "timeline/merge"),
	"timeline/given":             upTo(400, "timeline"),
	"timeline/together":          upTo(300, "timeline", "timeline/given"),
	"timeline/carry":             upTo(2500, "timeline"),
	"timeline/merge":             upTo(2350, "timeline", "timeline/field"),
	"timeline/grid":              upTo(1850, "timeline"),
	"timeline/snap":              upTo(400, "timeline", "timeline/grid"),
	"timeline/drawn":             upTo(1000, "timeline", "timeline/figure"),
	"timeline/operation":         upTo(6000, "timeline", "timeline/field", "timeline/rule", "timeline/ordertext", "timeline/grid", "timeline/snap", "timeline/drawn", "timeline/units", "timeline/row"),
	"timeline/row":               upTo(650, "timeline", "timeline/field", "timeline/figure"),
	"timeline/testtool":          upTo(500),
	"timeline/ordertext":         upTo(800, "timeline"),
	"audio":                      upTo(4000, "audio/bits", "audio/mp3", "audio/flac", "audio/vorbis"),
	"audio/bits":                 upTo(500),
	"audio/mp3":                  upTo(2000, "audio/bits"),
	"audio/flac":                 upTo(1000, "audio/bits"),
	"audio/vorbis":               upTo(1500, "audio/bits"),
	"audio/testsound":            upTo(1000, "audio", "timeline/testtool"), // for tests alone
	"audio/fourier":              upTo(500),
	"audio/ear":                  upTo(5000, "audio", "audio/fourier", "timeline"),
	"audio/match":                upTo(3000, "audio", "audio/fourier", "audio/match/anew", "timeline"),
	"audio/match/anew":           upTo(2000, "audio/fourier"),
	"audio/ltc":                  upTo(1500, "timeline"),
	"shows":                      upTo(5550, "timeline", "shows/archive"),
	"shows/archive":              upTo(300),
	"shows/gitmerge":             upTo(400, "timeline", "timeline/merge", "shows"),
	"shows/session":              upTo(2700, "timeline", "timeline/grid", "timeline/rule", "timeline/merge", "audio", "audio/ear", "audio/match", "shows", "shows/report", "shows/report/changed", "audio/ltc", "timeline/units"),
	"shows/report":               upTo(5100, "timeline", "timeline/rule", "timeline/operation", "shows/report/wording", "timeline/figure", "timeline/reach", "timeline/units"),
	"shows/report/wording":       upTo(1000, "timeline", "timeline/units"),
	"shows/report/load":          upTo(2500, "timeline", "timeline/units", "timeline/reach", "shows/report", "shows/report/wording"),
	"shows/report/permit":        upTo(1500, "timeline", "timeline/units", "timeline/figure", "timeline/reach", "timeline/rule", "shows/report", "shows/report/load", "shows/report/wording"),
	"shows/report/night":         upTo(1500, "timeline", "timeline/units", "timeline/rule", "shows/report", "shows/report/load", "shows/report/wording"),
	"shows/report/changed":       upTo(2200, "timeline", "timeline/units", "timeline/field", "timeline/operation", "timeline/rule", "shows/report", "shows/report/wording"), // with two nights in words
	"shows/report/course":        upTo(600, "timeline", "timeline/rule"),
	"shows/report/evening":       upTo(300, "timeline", "timeline/units", "shows/report", "shows/report/load", "shows/report/wording"),
	"shows/report/carried":       upTo(500, "timeline", "timeline/carry", "shows/report", "shows/report/changed", "shows/report/matched", "shows/report/evening", "shows/report/wording"),
	"shows/report/calling":       upTo(500, "timeline", "timeline/units", "shows/report", "shows/report/wording"),
	"shows/report/crew":          upTo(450, "timeline", "timeline/rule", "shows/report", "shows/report/calling", "shows/report/wording"),
	"shows/calls":                upTo(300, "timeline"),
	"shows/report/merged":        upTo(300, "timeline", "timeline/rule", "timeline/merge", "shows/report", "shows/report/changed", "shows/report/wording"),
	"shows/report/matched":       upTo(500, "timeline", "shows/report/wording"),
	"shows/report/summary":       upTo(300, "timeline", "shows/report", "shows/report/load", "shows/report/night", "shows/report/wording"),
	"shows/report/held":          upTo(1750, "timeline", "timeline/rule", "shows/intake", "shows/report", "shows/report/wording"),
	"shows/report/stripe":        upTo(1000, "timeline", "audio/ltc", "shows/report", "shows/report/wording"),
	"shows/report/testshow":      upTo(500, "timeline"), // for tests alone
	"shows/picture":              upTo(300, "timeline", "audio", "shows"),
	"shows/mvr":                  upTo(700, "timeline", "timeline/drawn", "timeline/figure", "audio", "shows/archive", "shows/intake"),
	"shows/intake":               upTo(3300, "timeline", "timeline/figure", "audio", "audio/ltc", "shows/archive", "shows/report/wording"),
	"shows/arrival":              upTo(900, "timeline", "timeline/carry", "audio", "audio/ear", "audio/match", "shows", "shows/session", "shows/intake", "shows/report/carried"),
	"shows/example":              upTo(500, "shows"),
	"shows/example/score":        upTo(2500), // what the example's songs are made from
	"shows/example/score/render": upTo(500, "shows/example/score"),
	"render":                     upTo(6350, "timeline", "timeline/units", "timeline/rule", "render/letter"),
	"render/front":               upTo(2700, "timeline", "timeline/units", "timeline/course", "timeline/figure", "timeline/reach", "timeline/rule", "render"),
	"render/causes":              upTo(300, "render"),
	"render/callboard":           upTo(800, "timeline", "shows/report/calling", "render", "render/front"),
	"render/setpicture":          upTo(1200, "timeline", "timeline/units", "render", "shows/report/course"),
	"render/crewpage":            upTo(1000, "timeline", "timeline/rule", "audio", "shows/report", "shows/report/crew", "shows/report/wording", "render", "render/front", "render/paper", "render/sheet"),
	"render/frame":               upTo(500, "timeline", "render"), // what stands around pages
	"render/leadbar":             upTo(200, "timeline", "render"),
	"render/letter":              upTo(200),
	"render/widget":              upTo(5600, "render"),
	"render/paper":               upTo(2550, "render", "render/letter"),
	"render/sheet":               upTo(4200, "timeline", "timeline/rule", "shows/report", "shows/report/wording", "shows/report/load", "shows/report/permit", "shows/report/night", "shows/report/changed", "shows/report/carried", "render", "render/paper", "render/workbook", "shows/report/summary", "timeline/units", "shows/report/held"),
	"render/workbook":            upTo(450),
	"render/desk":                upTo(1500, anyRoom),
	"render/desk/prefs":          upTo(120),
	"render/desk/play":           upTo(850, "timeline", "audio", "audio/ltc", "render"),
	"render/desk/export":         upTo(400, "timeline", "shows/report", "shows/report/stripe", "render/paper", "render/sheet", "render/crewpage"),
	"render/desk/tapping":        upTo(320, "timeline", "render", "render/widget"),
	"render/desk/song/beats":     upTo(1050, "timeline", "timeline/grid", "timeline/snap", "render", "render/widget", "render/desk/page", "render/desk/openshow"),
	"render/desk/song":           upTo(4900, "timeline", "timeline/grid", "timeline/snap", "timeline/operation", "render/desk/song/beats", "audio", "shows/report", "render", "render/front", "render/widget", "render/desk/page", "render/desk/play", "render/desk/prefs", "render/desk/tapping", "render/desk/openshow", "timeline/together"),
	"render/desk/openshow":       upTo(1050, "timeline", "timeline/rule", "shows", "shows/session", "shows/report", "shows/report/night", "shows/report/changed", "render", "render/sheet", "render/desk/page", "render/desk/play", "audio"),
	"render/desk/app":            upTo(6000, anyRoom), // the window without its engine
	"render/desk/inspector":      upTo(1260, "timeline", "timeline/given", "timeline/together", "render", "render/leadbar", "render/widget", "render/desk/openshow", "render/desk/page"),
	"render/desk/page":           upTo(900, "timeline", "timeline/units", "timeline/rule", "timeline/operation", "render", "render/widget", "shows/calls", "shows/report", "shows/report/night", "shows/arrival"), // with how measures are typed
	"render/desk/ribbon":         upTo(450, "timeline", "render", "render/frame", "render/widget", "render/desk/page", "render/desk/openshow"),
	"render/desk/fromfile":       upTo(150, "timeline", "timeline/drawn", "timeline/operation", "shows/mvr", "shows/picture", "render"),
	"render/desk/disk":           upTo(120, "shows", "render/widget"),
	"render/desk/cost":           upTo(250, "render"),
	"render/desk/menus":          upTo(200),
	"render/desk/keymap":         upTo(200, "render/widget"),
	"render/desk/page/table":     upTo(1000, "timeline", "render", "render/widget", "render/desk/page"),
	"render/desk/page/against":   upTo(200, "timeline", "render", "render/widget", "render/desk/page", "shows/report", "shows/report/held"),
	"render/desk/page/calling":   upTo(500, "timeline", "shows/calls", "shows/report/calling", "render", "render/callboard", "render/front", "render/desk/page"),
	"render/desk/page/carrying":  upTo(1400, "timeline", "timeline/carry", "timeline/operation", "audio", "shows/arrival", "shows/report/carried", "shows/report/evening", "render", "render/widget", "render/desk/page"),
	"render/desk/page/circuits":  upTo(110, "timeline", "shows/report/load", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/conflicts": upTo(300, "timeline", "timeline/merge", "shows/report/merged", "render", "render/widget", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/nights":    upTo(400, "timeline", "timeline/operation", "shows/calls", "shows/report", "shows/report/load", "render", "render/widget", "render/desk/page"),
	"render/desk/page/findings":  upTo(800, "timeline/rule", "render", "render/causes", "render/widget", "render/desk/page", "shows/report", "timeline"),
	"render/desk/page/history":   upTo(200, "render", "render/widget", "render/desk/page", "timeline"),
	"render/desk/page/patch":     upTo(700, "timeline", "timeline/operation", "render", "render/widget", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/phrases":   upTo(500, "timeline", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/rig":       upTo(280, "timeline", "timeline/units", "timeline/operation", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/rules":     upTo(500, "timeline", "timeline/field", "timeline/rule", "timeline/operation", "shows/report", "render/desk/page", "render/desk/page/table", "timeline/units"),
	"render/desk/page/sets":      upTo(800, "timeline", "timeline/operation", "timeline/ordertext", "render", "render/widget", "render/desk/page"),
	"render/desk/page/setview":   upTo(800, "timeline", "timeline/rule", "shows/report", "shows/report/course", "shows/report/evening", "render", "render/setpicture", "render/widget", "render/desk/page"),
	"render/desk/page/slots":     upTo(330, "timeline", "timeline/operation", "render/widget", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/stageplan": upTo(1500, "timeline", "timeline/units", "timeline/rule", "render", "render/widget", "render/desk/page"),
	"render/desk/page/stock":     upTo(300, "timeline", "timeline/operation", "shows/report", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/timecode":  upTo(500, "timeline", "render/desk/page", "render/desk/page/table"),
	"render/desk/page/tonight":   upTo(700, "timeline", "timeline/rule", "shows/report", "shows/report/night", "render", "render/causes", "render/widget", "render/desk/page"),
	"render/desk/page/venues":    upTo(600, "timeline", "timeline/field", "timeline/operation", "timeline/rule", "render", "render/widget", "render/desk/page"),
	"render/desk/page/wiring":    upTo(560, "timeline", "timeline/field", "timeline/operation", "shows/report", "shows/report/load", "render", "render/desk/page", "render/desk/page/table"),
	"render/desk/screen":         upTo(500),           // ends the program where there is no screen
	"cmd/emberbeat":              upTo(7900, anyRoom), // with the units of every verb
	"cmd/emberbeat-desk":         upTo(500, anyRoom),
}

// row is what the table says of a room.
type row struct {
	lines int
	may   []string
}

func upTo(lines int, may ...string) row { return row{lines, may} }

// large says of rooms above enough lines why they are one.
var large = map[string]string{
	"render":        "what draws songs, stages and two recordings shares the scene and its inks",
	"timeline":      "the records, their edits and the compiler share what only they may know of each other",
	"cmd/emberbeat": "one file a verb, and what they share of talk and flags",
	"timeline/rule": "a table of rules over shared measurements; a family each would export all of these",
}

// enough is how many lines a room can have and still be read as one.
const enough = 6000

const anyRoom = "any room"

// engineRooms may import the window's engine.
var engineRooms = []string{"render/desk", "cmd/emberbeat-desk"}

// ofWindow reports whether a room is of the window, which the command without
// one stays away from.
func ofWindow(name string) bool {
	return name == "cmd/emberbeat-desk" || name == "render/desk" || strings.HasPrefix(name, "render/desk/")
}

// pageRooms are the rooms that pages of the book share; each other room beside
// them is a family of pages.
var pageRooms = []string{"render/desk/page", "render/desk/page/table"}

const engine = "github.com/hajimehoshi/ebiten/"

// listed is what the go command says about a package.
type listed struct {
	ImportPath string
	Standard   bool
	Imports    []string
	Deps       []string
	TestImports,
	XTestImports []string
	CgoFiles []string
	Module   *struct{ Path string }
}

// goList runs go list for Linux without cgo, in the module's root.
func goList(t *testing.T, args ...string) []listed {
	t.Helper()
	return goListWith(t, []string{"CGO_ENABLED=0", "GOOS=linux"}, args...)
}

// goListWith runs go list in an environment with some more variables.
func goListWith(t *testing.T, env []string, args ...string) []listed {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-e", "-json=ImportPath,Standard,Imports,Deps,TestImports,XTestImports,CgoFiles,Module"}, args...)...)
	cmd.Dir = root(t)
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.Output()
	require.NoError(t, err)
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := d.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all
		}
		require.NoError(t, err)
		all = append(all, p)
	}
}

func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../..")
	require.NoError(t, err)
	return dir
}

func room(path string) (string, bool) { return strings.CutPrefix(path, module+"/") }

// Every package stands in the table and imports only what its row allows.
func TestTableOfRooms(t *testing.T) {
	for _, p := range goList(t, "./...") {
		name, ours := room(p.ImportPath)
		require.True(t, ours, p.ImportPath)
		its, known := rooms[name]
		require.True(t, known, "package %s has no row in the table of rooms", name)
		for _, i := range p.Imports {
			if other, ours := room(i); ours {
				require.True(t, mayImport(name, its.may, other), "%s must not import %s", name, other)
			}
			if strings.HasPrefix(i, engine) {
				require.Contains(t, engineRooms, name, "%s must not import the window's engine", name)
			}
		}
	}
}

// No room is longer than its row says.
func TestRoomsKeepTheirSize(t *testing.T) {
	for name, its := range rooms {
		files, err := filepath.Glob(filepath.Join(root(t), name, "*.go"))
		require.NoError(t, err)
		lines := 0
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			b, err := os.ReadFile(file)
			require.NoError(t, err)
			lines += bytes.Count(b, []byte("\n"))
		}
		require.LessOrEqual(t, lines, its.lines, "%s has more lines than its row allows", name)
		_, why := large[name]
		require.Equal(t, its.lines > enough, why, "%s: a ceiling above %d lines needs a reason, and only that", name, enough)
	}
}

// folders are in their order: none imports what stands behind it.
var folders = []string{"timeline", "audio", "shows", "render", "cmd"}

func TestNoFolderImportsUpward(t *testing.T) {
	top := func(name string) int {
		folder, _, _ := strings.Cut(name, "/")
		return slices.Index(folders, folder)
	}
	for _, p := range goList(t, "./...") {
		name, _ := room(p.ImportPath)
		require.NotEqual(t, -1, top(name), name)
		for _, i := range p.Imports {
			if other, ours := room(i); ours {
				require.LessOrEqual(t, top(other), top(name), "%s must not import %s: shows, say, knows no render", name, other)
			}
		}
	}
}

// Pages know the shell by an interface: none of their rooms imports the shell,
// or another family of pages.
func TestPagesKnowNeitherTheShellNorEachOther(t *testing.T) {
	families := 0
	for _, p := range goList(t, "./render/desk/page/...") {
		name, _ := room(p.ImportPath)
		if !slices.Contains(pageRooms, name) {
			families++
		}
		for _, i := range p.Imports {
			if other, ours := room(i); ours && ofWindow(other) {
				require.Contains(t, pageRooms, other, name)
			}
		}
	}
	require.Positive(t, families)
}

// testRooms are rooms that only tests import.
var testRooms = []string{"timeline/testtool", "audio/testsound", "shows/report/testshow"}

// What tests compare with stays in tests.
func TestNoProgramCarriesWitnesses(t *testing.T) {
	for _, p := range goList(t, "./...") {
		if !slices.Contains(testRooms, strings.TrimPrefix(p.ImportPath, module+"/")) {
			for _, room := range testRooms {
				require.NotContains(t, p.Imports, module+"/"+room, p.ImportPath)
			}
		}
	}
}

// Properties are checked from a seed that is known, which the room of what
// tests need sets for a package that imports it.
func TestPropertiesStartFromTheSeed(t *testing.T) {
	walks := 0
	for _, p := range goList(t, "./...") {
		tests := append(p.TestImports, p.XTestImports...)
		if slices.Contains(tests, "pgregory.net/rapid") && p.ImportPath != module+"/timeline/testtool" {
			walks++
			require.Contains(t, tests, module+"/timeline/testtool", p.ImportPath)
		}
	}
	require.Positive(t, walks)
}

// mayImport reports whether a room may import another. The commands may import
// all but, for the one without a window, the window.
func mayImport(name string, allowed []string, other string) bool {
	if slices.Equal(allowed, []string{anyRoom}) {
		return !ofWindow(other) || ofWindow(name)
	}
	return slices.Contains(allowed, other)
}

// The model imports the standard library and nothing else.
func TestTimelineImportsOnlyTheStandardLibrary(t *testing.T) {
	for _, p := range goList(t, "-deps", "./timeline") {
		require.True(t, p.Standard || p.ImportPath == module+"/timeline" || p.ImportPath == module+"/timeline/field" || p.ImportPath == module+"/timeline/figure" || p.ImportPath == module+"/timeline/units", "timeline depends on %s", p.ImportPath)
	}
}

// The model starts no goroutine, reads no clock and no file, and asks no
// randomness: it does not import what would let it.
func TestTimelineImportsNoWorld(t *testing.T) {
	for _, p := range goList(t, "./timeline", "./timeline/field", "./timeline/figure", "./timeline/units", "./timeline/operation", "./timeline/reach", "./timeline/rule") {
		for _, forbidden := range []string{"os", "io/fs", "time", "math/rand", "math/rand/v2", "crypto/rand", "sync", "net", "os/exec"} {
			require.NotContains(t, p.Imports, forbidden, p.ImportPath)
		}
	}
}

// Nothing but the window depends on its engine, on cgo or on what plays sound.
func TestCommandNeedsNoScreenAndNoCgo(t *testing.T) {
	for _, p := range goList(t, "-deps", "./cmd/emberbeat") {
		require.False(t, strings.HasPrefix(p.ImportPath, engine), "cmd/emberbeat depends on %s", p.ImportPath)
		require.Empty(t, p.CgoFiles, p.ImportPath)
	}
}

// outside is every package from elsewhere that a program of ours may be built
// of, by the start of its name. What is not named here could reach a device; who
// adds a line has looked at what it opens.
var outside = map[string][]string{
	"cmd/emberbeat": {
		"github.com/faiface/beep", // the shape of a stream; it plays nothing by itself
		"github.com/go-pdf/fpdf",
		"github.com/gofrs/flock",
		"github.com/inconshreveable/mousetrap", // on Windows: whether the program was started by a click
		"github.com/pelletier/go-toml/v2/",
		"github.com/spf13/cobra",
		"github.com/spf13/pflag",
		"github.com/go-fonts/dejavu/dejavusanscondensed", "github.com/go-fonts/dejavu/dejavusanscondensedbold", // fonts as bytes
		"github.com/vbauerster/mpb/v8", // progress, and what it measures text with
		"github.com/vbauerster/cupwriter",
		"github.com/VividCortex/ewma",
		"github.com/acarl005/stripansi",
		"github.com/clipperhouse/uax29/v2/graphemes",
		"github.com/mattn/go-runewidth",
		"golang.org/x/image/",
		"golang.org/x/sys/unix",
		"golang.org/x/sys/windows",
		"golang.org/x/term",
		"golang.org/x/text/",
	},
	"cmd/emberbeat-desk": {
		"github.com/atotto/clipboard",
		"github.com/ebitengine/hideconsole",
		"github.com/ebitengine/oto/v3", // sound out, of what play gives it
		"github.com/ebitengine/purego",
		"github.com/faiface/beep",
		"github.com/go-fonts/dejavu/dejavusanscondensed", "github.com/go-fonts/dejavu/dejavusanscondensedbold",
		"github.com/go-pdf/fpdf",
		"github.com/gofrs/flock",
		"github.com/hajimehoshi/ebiten/v2",
		"github.com/jezek/xgb",
		"github.com/pelletier/go-toml/v2/",
		"golang.org/x/image/",
		"golang.org/x/sync/errgroup",
		"golang.org/x/sys/unix",
		"golang.org/x/sys/windows",
		"golang.org/x/text/",
	},
}

// netUsers are the packages that may import the network, and why.
var netUsers = map[string]string{
	"github.com/jezek/xgb":     "the X11 client, which speaks to the screen through a socket",
	"github.com/spf13/pflag":   "flags that are addresses, which we have none of; TestCommandHoldsNoConnection",
	"golang.org/x/sys/windows": "its tables of the system's calls use the types of addresses",
}

// reaches says why a program built of some packages could reach a device or
// another machine: packages that nobody has looked at, and those that import the
// network or what is made of it.
func reaches(program string, deps []listed) (why []string) {
	networked := map[string]bool{"net": true}
	for _, p := range deps {
		if p.Standard && slices.Contains(p.Deps, "net") {
			networked[p.ImportPath] = true
		}
	}
	for _, p := range deps {
		if p.Standard {
			continue
		}
		_, ours := room(p.ImportPath)
		if !ours && !slices.ContainsFunc(outside[program], func(start string) bool { return within(p.ImportPath, start) }) {
			why = append(why, p.ImportPath+" is not among the packages that were looked at")
		}
		for _, i := range p.Imports {
			if _, may := netUsers[p.ImportPath]; networked[i] && !may {
				why = append(why, p.ImportPath+" imports "+i)
			}
		}
	}
	return why
}

// within reports whether a package is of a module or folder of packages.
func within(path, start string) bool {
	start = strings.TrimSuffix(start, "/")
	return path == start || strings.HasPrefix(path, start+"/")
}

// The programs have no way to reach a device that could fire anything: of all
// they are built of, down to the last package, nothing opens a connection but the
// window's way to the screen, and nothing is there that nobody has looked at.
func TestNothingCanFire(t *testing.T) {
	for _, program := range []string{"cmd/emberbeat", "cmd/emberbeat-desk"} {
		for _, on := range [][]string{{"CGO_ENABLED=0", "GOOS=linux"}, {"CGO_ENABLED=1", "GOOS=linux"}, {"CGO_ENABLED=0", "GOOS=windows"}} {
			deps := goListWith(t, on, "-deps", "./"+program)
			require.Greater(t, len(deps), 100, program)
			require.Empty(t, reaches(program, deps), "%s with %s", program, on)
			if program == "cmd/emberbeat" {
				require.False(t, slices.ContainsFunc(deps, func(p listed) bool { return p.ImportPath == "net/http" || p.ImportPath == "crypto/tls" }), "%s with %s", program, on)
			}
		}
	}
}

// connects finds what opens or takes connections among the names that a program
// was linked from.
var connects = regexp.MustCompile(`(?m) (net\.(Dial|Listen|socket|sysSocket|internetSocket|unixSocket|\(\*(Dialer|ListenConfig|sysDialer|sysListener|Resolver|netFD)\))\S*|(net/http|crypto/tls|net/rpc|net/smtp|log/syslog)\.\S*)$`)

// Of the network the command holds nothing but the types of addresses: what it
// was linked from has no function that opens a connection or waits for one.
func TestCommandHoldsNoConnection(t *testing.T) {
	program := filepath.Join(t.TempDir(), "emberbeat")
	build := exec.Command("go", "build", "-ldflags=-s=false -w", "-o", program, "./cmd/emberbeat")
	build.Dir = root(t)
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	out, err := build.CombinedOutput()
	require.NoError(t, err, string(out))
	names, err := exec.Command("go", "tool", "nm", program).Output()
	require.NoError(t, err)
	require.Contains(t, string(names), " main.main\n", "the names are there to be looked at")
	require.Empty(t, connects.FindAllString(string(names), -1))
	for _, name := range []string{" net.Dial\n", " net.(*Dialer).DialContext\n", " net/http.(*Client).Do\n", " crypto/tls.Dial\n"} {
		require.True(t, connects.MatchString(name), name)
	}
}

// A package that nobody looked at, the network, and what is made of it are each
// found.
func TestWhatCouldFireIsFound(t *testing.T) {
	standard := []listed{{ImportPath: "net", Standard: true}, {ImportPath: "net/rpc", Standard: true, Deps: []string{"net"}}, {ImportPath: "net/url", Standard: true}}
	for _, c := range []struct {
		program, path, imports string
		found                  int
	}{
		{"cmd/emberbeat", "golang.org/x/term", "os", 0},
		{"cmd/emberbeat", "golang.org/x/term", "net/url", 0},
		{"cmd/emberbeat", "example.org/serial", "os", 1},
		{"cmd/emberbeat", "golang.org/x/termite", "os", 1},
		{"cmd/emberbeat", "golang.org/x/term", "net/rpc", 1},
		{"cmd/emberbeat", module + "/shows", "net", 1},
		{"cmd/emberbeat", "github.com/jezek/xgb", "net", 1}, // where there is no window, it has no place
		{"cmd/emberbeat-desk", "github.com/jezek/xgb", "net", 0},
		{"cmd/emberbeat-desk", "github.com/ebitengine/oto/v3", "net", 1},
		{"cmd/emberbeat-desk", module + "/render/desk", "net", 1},
	} {
		deps := append([]listed{{ImportPath: c.path, Imports: []string{c.imports}}}, standard...)
		require.Len(t, reaches(c.program, deps), c.found, "%v", c)
	}
}

// The top of the tree holds what the table says and nothing else.
func TestTopLevel(t *testing.T) {
	allowed := []string{"README.md", "DEVELOPERS.md", "LICENSE", "Makefile", "go.mod", "go.sum", "cmd", "timeline", "audio", "render", "shows", "testdata"}
	cmd := exec.Command("git", "ls-files")
	cmd.Dir = root(t)
	out, err := cmd.Output()
	if err != nil {
		t.Skip("not in a git checkout of one's own: what is committed cannot be listed")
	}
	for _, name := range strings.Fields(string(out)) {
		top, _, _ := strings.Cut(name, "/")
		require.True(t, strings.HasPrefix(top, ".") || slices.Contains(allowed, top), "%s has no place at the top", top)
	}
}
