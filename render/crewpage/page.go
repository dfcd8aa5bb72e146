package crewpage

import (
	"context"
	"crypto/sha256"
	_ "embed" // style and scripts
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"slices"
	"strings"

	"emberbeat/audio"
	"emberbeat/render"
	"emberbeat/render/front"
	"emberbeat/render/sheet"
	"emberbeat/shows/report"
	"emberbeat/shows/report/crew"
	"emberbeat/timeline"
	"emberbeat/timeline/rule"
)

//go:embed bundle.js
var script string

//go:embed style.css
var style string

// Ask is what a page is made of.
type Ask struct {
	Plan   *timeline.Plan
	Facts  rule.Facts
	Found  []rule.Finding
	Reader string   // whom it is for, see crew.Readers; "" = everybody
	Sheets []string // names of those that are asked for, see crew.Sheets
	Made   string   // when, in words; it does not count for the hash

	Recordings Recordings // nil = there are none
	Sound      bool       // with sound
}

// MadeForm writes the time at which a page was made, for Ask.Made.
const MadeForm = "2 January 2006 15:04"

// Recordings gives what songs sound like.
type Recordings interface {
	// Peaks gives the sound of a song as it is drawn.
	Peaks(context.Context, *timeline.SongHead) (*audio.Pyramid, error)
	// Handout gives the sound of a song as a small WAV file of the channels that may be
	// heard.
	Handout(context.Context, *timeline.SongHead) ([]byte, error)
}

// Page is a page that is ready to be written.
type Page struct {
	Data   *crew.Page
	Hash   string // of all that the page says: two with one hash tell the same, whatever sound is at hand
	Sheets []string

	ask     Ask
	sheets  []madeSheet
	songs   []madeSong
	data    []byte
	silence []string // why songs are without sound, by song
}

// madeSong is what a song shows.
type madeSong struct {
	data, stage  []byte // JSON
	small, large string // pictures
	density      string
	sound        []byte
}

// AskOf asks for the page of a plan, with what its rules find in it alone: neither the
// day nor what recordings are on a computer changes a page and its hash.
func AskOf(p *timeline.Plan) Ask { return Ask{Plan: p, Found: rule.Check(p, rule.Facts{})} }

// New makes a page. Its errors are those of crew.New, crew.Sheets and the sheets, and
// ctx.Err().
func New(ctx context.Context, a Ask) (*Page, error) {
	data, err := crew.New(a.Plan, a.Facts, a.Found, a.Reader)
	if err != nil {
		return nil, err
	}
	pg := &Page{Data: data, ask: a}
	if err := pg.makeSheets(); err != nil {
		return nil, err
	}
	pictures := newPictures(ctx, a)
	for i := range data.Songs {
		s, err := pictures.song(&data.Songs[i], i)
		if err != nil {
			return nil, err
		}
		pg.songs = append(pg.songs, s)
	}
	pg.sign()
	pg.listen(ctx)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return pg, pg.encode()
}

// sign finds the hash.
func (pg *Page) sign() {
	h := sha256.New()
	enc := json.NewEncoder(h) // into a hash, which takes everything
	for i := range pg.songs {
		s := &pg.songs[i]
		_ = enc.Encode([]any{s.data, s.stage})
	}
	for i := range pg.sheets {
		_ = enc.Encode([]any{pg.sheets[i].kind.Name, pg.sheets[i].html})
	}
	_ = enc.Encode(pg.Data)
	pg.Hash = hex.EncodeToString(h.Sum(nil))[:16]
}

// listen adds sound until the page would be too large to be passed on.
func (pg *Page) listen(ctx context.Context) {
	room := MostSound
	for i := range pg.Data.Songs {
		why := "no sound was asked for"
		if pg.ask.Sound {
			pg.songs[i].sound, why = pg.ask.handout(ctx, i, room)
			room -= base64.StdEncoding.EncodedLen(len(pg.songs[i].sound))
		}
		pg.silence = append(pg.silence, why)
	}
}

// handout gives the sound of a song where there is room for it, or says why not.
func (a *Ask) handout(ctx context.Context, song, room int) ([]byte, string) {
	g := &a.Plan.Songs[song].Song.SongHead
	switch {
	case a.Recordings == nil || g.Audio.Path == "":
		return nil, noAudio
	case ctx.Err() != nil:
		return nil, ctx.Err().Error()
	case base64.StdEncoding.EncodedLen(int(g.Duration().Samples(audio.SmallRate))) > room: // it would be made in vain
		return nil, full
	}
	wav, err := a.Recordings.Handout(ctx, g)
	switch {
	case err != nil:
		return nil, err.Error()
	case base64.StdEncoding.EncodedLen(len(wav)) > room:
		return nil, full
	}
	return wav, ""
}

// Why a song is without sound.
const noAudio = "the song has no audio yet"

var full = fmt.Sprintf("there is room for %d MB of sound, and the songs before take it", MostSound/1_000_000)

// Silent says which songs are without sound although it was asked for, and why.
func (pg *Page) Silent() (lines []string) {
	for i, why := range pg.silence {
		if pg.ask.Sound && why != "" {
			lines = append(lines, pg.Data.Songs[i].Title+" is without sound: "+why)
		}
	}
	return lines
}

// MostSound is how much of a page may be sound, as it stands in the file: mail and
// messages refuse larger files (common practice, no source).
const MostSound = 25_000_000

// head is what the scripts read first: all but the songs' own data.
type head struct {
	*crew.Page
	Songs  []headSong  `json:"songs"`
	Sheets []headSheet `json:"sheets"`
	Hash   string      `json:"hash"`
	Made   string      `json:"made"`
}

type headSong struct {
	ID      timeline.ID `json:"id"`
	Title   string      `json:"title"`
	Number  int         `json:"number"`
	Sound   bool        `json:"sound"`
	Silence string      `json:"silence"`
}

type headSheet struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

func (pg *Page) encode() (err error) {
	h := head{Page: pg.Data, Songs: []headSong{}, Sheets: []headSheet{}, Hash: pg.Hash, Made: pg.ask.Made}
	for i := range pg.Data.Songs {
		s := &pg.Data.Songs[i]
		h.Songs = append(h.Songs, headSong{s.ID, s.Title, s.Number, pg.songs[i].sound != nil, pg.silence[i]})
	}
	for i := range pg.sheets {
		h.Sheets = append(h.Sheets, headSheet{pg.sheets[i].kind.Name, pg.sheets[i].kind.Title})
	}
	pg.data, err = json.Marshal(h)
	return err
}

// Write writes the page.
func (pg *Page) Write(w io.Writer) error {
	out := &writer{w: w}
	code, css := script, palette()+style
	out.raw("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	out.raw(`<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src '` + digest(code) + `'; style-src '` + digest(css) +
		`'; media-src blob:; base-uri 'none'; form-action 'none'">` + "\n" + `<meta name="referrer" content="no-referrer">` + "\n")
	out.raw("<title>").text(pg.Data.Title()).raw("</title>\n<style>" + css + "</style></head>\n<body>\n")
	pg.top(out)
	out.raw("<main>\n")
	pg.songList(out)
	pg.now(out)
	pg.sheetList(out)
	pg.night(out)
	out.raw("</main>\n")
	pg.tabs(out)
	out.json("data", pg.data)
	for i := range pg.songs {
		s := &pg.songs[i]
		out.json(fmt.Sprintf("song-%d", i), s.data).json(fmt.Sprintf("stage-%d", i), s.stage)
		out.raw(fmt.Sprintf("<script type=\"text/plain\" id=\"large-%d\">", i) + s.large + "</script>\n")
		if s.sound != nil {
			out.raw(fmt.Sprintf("<script type=\"text/plain\" id=\"sound-%d\">", i) + base64.StdEncoding.EncodeToString(s.sound) + "</script>\n")
		}
	}
	out.raw("<script>" + code + "</script>\n</body></html>\n")
	return out.err
}

// digest gives the source expression that lets an inline text run (Content Security
// Policy Level 2, 4.2.5; from memory).
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// writer writes markup, and keeps the first error.
type writer struct {
	w   io.Writer
	err error
}

// raw writes markup.
func (o *writer) raw(markup string) *writer {
	if o.err == nil {
		_, o.err = io.WriteString(o.w, markup)
	}
	return o
}

// text writes a text as text, in an element or a quoted attribute. Letters that turn
// the direction of what follows are kept inside by the elements' isolation.
func (o *writer) text(s string) *writer { return o.raw(escape(s)) }

// escape makes markup of a text. What is no UTF-8 becomes U+FFFD; control characters,
// which HTML does not allow, go.
func escape(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7F {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD")))
}

// json writes data that scripts read. The encoder has escaped <, > and &, so that no
// text ends the element.
func (o *writer) json(id string, data []byte) *writer {
	return o.raw(`<script type="application/json" id="` + id + `">`).raw(string(data)).raw("</script>\n")
}

// palette gives the inks of the themes as variables of the style, and the classes of
// pictures.
func palette() string {
	var b strings.Builder
	inks := func(th *render.Theme) {
		for k := render.InkLane; k <= render.InkWhite; k++ {
			c := th.Light(k)
			fmt.Fprintf(&b, "--%s:#%02x%02x%02x;", k, c.R, c.G, c.B)
		}
	}
	block := func(before string, th *render.Theme, after string) {
		b.WriteString(before)
		inks(th)
		b.WriteString(after)
	}
	block(":root{color-scheme:dark;", &render.Dark, "}\n")
	block("@media (prefers-color-scheme:light){:root:not([data-theme]){color-scheme:light;", &render.Day, "}}\n")
	block(":root[data-theme=day]{color-scheme:light;", &render.Day, "}\n")
	block(":root[data-theme=night]{", &render.Night, "}\n")
	block("@media print{:root,:root[data-theme]{color-scheme:light;", &render.Day, "}}\n")
	for k := render.InkLane; k <= render.InkWhite; k++ {
		fmt.Fprintf(&b, ".i-%s{fill:var(--%s)}.s-%s{stroke:var(--%s);fill:none}\n", k, k, k, k)
	}
	return b.String()
}

// FileName proposes the name of the file of a night's page, or of the tour's, which
// says what is in it beyond the plan.
func FileName(n *timeline.Night, a Ask) string {
	name := "crew-page"
	if n != nil {
		name = n.Slug + "-" + name
	}
	if a.Reader != "" {
		name += "-for-" + a.Reader
	}
	if len(a.Sheets) > 0 {
		name += "-with-" + strings.Join(a.Sheets, "-")
	}
	if a.Sound {
		name += "-sound"
	}
	return name + ".html"
}

// sheetNames lists all sheets that there are for a plan.
func sheetNames(p *timeline.Plan) []string {
	var names []string
	for _, k := range sheet.Kinds() {
		if !k.Night || p.Night != nil {
			names = append(names, k.Name)
		}
	}
	return names
}

// makeSheets makes the sheets that the page holds.
func (pg *Page) makeSheets() error {
	names, err := crew.Sheets(sheetNames(pg.ask.Plan), pg.ask.Sheets, pg.ask.Reader)
	if err != nil {
		return err
	}
	filter := report.Filter{Standing: report.StandingOf(pg.ask.Plan, pg.ask.Facts, pg.ask.Found)}
	for _, name := range names {
		kind, _ := sheet.KindNamed(name)
		made, err := kind.Make(pg.ask.Plan, filter)
		if err != nil {
			return fmt.Errorf("%s: %w", kind.Title, err)
		}
		s := madeSheet{kind: kind, printed: made.Printed()}
		if name == "spotter-sheet" {
			s.at = pg.spotterParts(len(s.printed.Parts))
		}
		s.write(pg.ask.Reader == crew.Spotters)
		pg.sheets = append(pg.sheets, s)
	}
	pg.Sheets = names
	return nil
}

// spotterParts says of the parts of the spotter sheet, one a position, which of the
// page's positions they are of; -1 = none.
func (pg *Page) spotterParts(n int) []int {
	r, err := report.NewSpotterSheet(pg.ask.Plan, report.Filter{})
	if err != nil || n != len(r.Positions) {
		return nil
	}
	at := make([]int, n)
	for i := range at {
		at[i] = slices.Index(pg.Data.PositionIDs, timeline.ID(r.Positions[i].Position))
	}
	return at
}

// stageOf gives the drawing of a song's stage and what comes to stand on it.
func stageOf(p *timeline.Plan, i int) *front.Stage { return front.New(p, p.Songs[i].SongPlan) }
