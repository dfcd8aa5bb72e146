package crewpage

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"emberbeat/shows/report"
	"emberbeat/shows/report/crew"
	"emberbeat/shows/report/wording"
	"emberbeat/timeline"
)

func itoa(n int) string { return strconv.Itoa(n) }

// top writes what stands above everything: what it is, how old, and the caution.
func (pg *Page) top(out *writer) {
	h := &pg.Data.Head
	out.raw("<header><h1>").text(h.Show).raw("</h1><p class=\"about\">").
		text(wording.JoinGiven(" · ", cmp.Or(h.Date, h.Night, "the tour"), h.Venue, "revision "+cmp.Or(pg.Data.Revision, "not given"), "page "+pg.Hash)).raw("</p>\n")
	first, rest, _ := strings.Cut(report.Caution, "; ") // the first of it stands on a phone at all times
	out.raw("<p class=\"caution\"><strong>").text(first + ". ").raw("<span class=\"rest\">").text(strings.ToUpper(rest[:1]) + rest[1:]).raw("</span></strong> <span class=\"made\">").text(pg.madeText()).raw("</span></p></header>\n")
}

// madeText says when the page was made, and what that means.
func (pg *Page) madeText() string {
	text := "Later changes are not in here."
	if pg.ask.Made != "" {
		text = "Made " + pg.ask.Made + ". " + text
	}
	return text
}

// songList writes the songs in order; with their times and pictures where scripts do
// not run.
func (pg *Page) songList(out *writer) {
	out.raw("<section id=\"songs\" class=\"tab\"><h2>Songs</h2>\n<ol class=\"songs\">\n")
	for i := range pg.Data.Songs {
		g := &pg.Data.Songs[i]
		out.raw(fmt.Sprintf("<li><button type=\"button\" class=\"song\" data-song=\"%d\"><span class=\"number\">%d</span><bdi class=\"title\">", i, g.Number)).text(g.Title).
			raw("</bdi><span class=\"code\">").text(g.Start).raw("</span>" + pg.songs[i].density + "<span class=\"count\">").text(countText(g)).raw("</span></button>\n")
		out.raw("<noscript>" + pg.songs[i].small)
		writeTimes(out, g)
		out.raw("</noscript></li>\n")
	}
	out.raw("</ol>\n")
	if len(pg.Data.Songs) == 0 {
		out.raw("<p>The running order plays no song.</p>\n")
	}
	out.raw("</section>\n")
}

// countText says how many cues a song has, and how many findings.
func countText(g *crew.Song) string {
	text := timeline.Counted(len(g.Cues), "cue")
	if g.Found > 0 {
		text += ", " + timeline.Counted(g.Found, "finding")
	}
	return text
}

// writeTimes writes the cues of a song as a table.
func writeTimes(out *writer, g *crew.Song) {
	out.raw("<div class=\"scroll\"><table><thead><tr><th>command</th><th>bar</th><th>what</th><th>where</th><th>planned open until</th></tr></thead><tbody>\n")
	for i := range g.Cues {
		c := &g.Cues[i]
		out.raw("<tr><td>").text(c.Code).raw("</td><td>").text(c.Bar).raw("</td><td>").text(c.Name + ": " + c.What).raw("</td><td>").text(c.Where).raw("</td><td>").text(c.Until).raw("</td></tr>\n")
	}
	out.raw("</tbody></table></div>")
}

// now writes the frame that the scripts fill.
func (pg *Page) now(out *writer) {
	out.raw(`<section id="now" class="tab scripted" aria-label="Now"><audio id="sound" preload="auto"></audio>
<div class="sides"><div class="side">
<div class="clockrow"><div><bdi id="song-title" class="title"></bdi><div id="section" class="quiet"></div></div></div>
<div class="clock"><output id="code" class="code"></output><output id="bar" class="bar"></output></div>
<div id="next" class="card"></div>
<ol id="after" class="after"></ol>
<div id="open" class="quiet"></div><div id="arms" class="quiet"></div><div id="found" class="quiet"></div>
</div><div class="side">
<div id="stage" class="stage"></div>
<div class="zoomrow"><button type="button" id="zoom" aria-pressed="false">Larger picture</button></div>
<div id="picture" class="picture" tabindex="0" role="slider" aria-label="Place in the song" aria-valuemin="0"><div id="drawing"></div><div id="head" class="playhead"></div></div>
<p id="silence" class="quiet"></p><label id="pick" class="pick">Sound file from this phone <input type="file" id="file" accept="audio/*"></label>
<details><summary>Rehearse from a timecode, loop a section</summary>
<form id="goto"><label>Timecode or bar <input id="typed" type="text" inputmode="text" autocomplete="off" autocapitalize="off" placeholder="01:02:20:03 or 61.1"></label><button type="submit">Go there</button><p id="typed-wrong" class="wrong" role="alert"></p></form>
<div class="row"><button type="button" data-nudge="-1000">− 0.1 s</button><button type="button" data-nudge="1000">+ 0.1 s</button></div>
<label>Section <select id="part"></select></label><div class="row"><button type="button" id="loop" aria-pressed="false">Loop this section</button></div>
</details></div></div>
<div id="note-form" class="card" hidden><form id="note"><h3 id="note-at"></h3><div id="note-talk" class="row"></div>
<label>Words <input id="note-text" type="text" maxlength="300" autocomplete="off"></label>
<label>Your name <input id="note-by" type="text" maxlength="60" autocomplete="name"></label>
<div class="row"><button type="submit">Keep this note</button><button type="button" id="note-drop">Discard</button></div></form></div>
<div class="transport"><button type="button" id="back">− 1 bar</button><button type="button" id="play" class="primary">Play</button><button type="button" id="on">+ 1 bar</button><button type="button" id="note-open">Note</button></div>
</section>
`)
}

// sheetList writes the sheets, each of which can be read without scripts.
func (pg *Page) sheetList(out *writer) {
	out.raw("<section id=\"sheets\" class=\"tab\"><h2>Sheets</h2>\n<p class=\"quiet\">").text(pg.inFile()).raw("</p>\n")
	out.raw("<label class=\"scripted\">Who reads this <select id=\"role\"></select></label>\n<ol id=\"sheet-list\" class=\"sheets\">\n")
	for i := range pg.sheets {
		s := &pg.sheets[i]
		out.raw("<li data-sheet=\"" + s.kind.Name + "\"><details><summary><span class=\"title\">").text(s.kind.Title).raw("</span><span class=\"quiet\">").text(firstClause(s.kind.Help)).
			raw("</span></summary><div class=\"sheet\"></div></details><noscript><h3>").text(s.kind.Title).raw("</h3>" + s.html + "</noscript></li>\n")
	}
	out.raw("</ol></section>\n")
}

// firstClause gives what a help says before it goes into detail.
func firstClause(text string) string {
	if i := strings.IndexAny(text, ":;,"); i > 0 {
		return text[:i]
	}
	return text
}

// inFile says which of the sheets are in the file.
func (pg *Page) inFile() string {
	all := len(sheetNames(pg.ask.Plan))
	text := fmt.Sprintf("%d of %s are in this file.", len(pg.sheets), timeline.Counted(all, "sheet"))
	if pg.ask.Reader != "" {
		text += " It is made for " + pg.ask.Reader + ": without explosives in figures, order lists and persons."
	}
	return text
}

// night writes what holds for the whole evening.
func (pg *Page) night(out *writer) {
	d := pg.Data
	out.raw("<section id=\"night\" class=\"tab\"><h2>Night</h2>\n<dl>")
	for _, l := range d.Head.Lines() {
		if l[0] != "caution" {
			out.raw("<dt>").text(l[0]).raw("</dt><dd>").text(l[1]).raw("</dd>")
		}
	}
	out.raw("<dt>page</dt><dd>").text(pg.Hash).raw("</dd></dl>\n<h3>Differs from the tour</h3>\n")
	writeList(out, d.Changes, "Nothing is planned otherwise than on the tour.")
	out.raw("<h3>Findings</h3><p>").text(d.Checked).raw("</p>")
	if d.Withheld != "" {
		out.raw("<p>").text(d.Withheld).raw("</p>")
	}
	out.raw("<ol class=\"findings\">\n")
	for i := range d.Findings {
		pg.finding(out, &d.Findings[i])
	}
	out.raw("</ol>\n")
	out.raw(`<div class="scripted"><h3>Notes on this phone</h3><ol id="notes"></ol><p id="notes-said" class="quiet" role="status"></p><div class="row"><a id="notes-save" class="button" hidden>Save notes as a file</a></div>
<h3>How it looks</h3><label>Colours <select id="theme"><option value="">as the phone has it</option><option value="dark">Dark</option><option value="night">Night</option><option value="day">Day</option></select></label>
<label>Letters <select id="letters"><option value="100">usual</option><option value="125">large</option><option value="150">very large</option></select></label>
<label>Held with <select id="hand"><option value="right">the right hand</option><option value="left">the left hand</option></select></label></div></section>
`)
}

func writeList(out *writer, list []string, none string) {
	if len(list) == 0 {
		out.raw("<p>").text(none).raw("</p>\n")
		return
	}
	out.raw("<ul>")
	for _, s := range list {
		out.raw("<li>").text(s).raw("</li>")
	}
	out.raw("</ul>\n")
}

func (pg *Page) finding(out *writer, f *crew.Found) {
	out.raw("<li><details><summary><strong>").text(string(f.Severity)).raw("</strong> ").text(f.Title).raw(" <span class=\"quiet\">").text(f.Where)
	if f.Accepted > 0 {
		out.text(fmt.Sprintf(", %d accepted", f.Accepted))
	}
	out.raw("</span></summary><ul>")
	for _, l := range f.Lines {
		out.raw(fmt.Sprintf("<li><button type=\"button\" class=\"go\" data-song=\"%d\" data-at=\"%d\">", l.Song, l.At)).text(fmt.Sprintf("song %d, ", pg.Data.Songs[l.Song].Number)).
			text(wording.JoinGiven(", ", wording.Prefixed("bar ", l.Bar), l.Code)).raw("</button> ").text(l.Text).raw("</li>")
	}
	if f.More > 0 {
		out.raw("<li>").text(fmt.Sprintf("and %d more", f.More)).raw("</li>")
	}
	out.raw("</ul></details></li>\n")
}

// tabs writes what is in reach of a thumb.
func (pg *Page) tabs(out *writer) {
	out.raw(`<nav class="scripted" role="tablist">`)
	for _, t := range []string{"songs", "now", "sheets", "night"} {
		out.raw(`<button type="button" role="tab" aria-selected="false" aria-controls="` + t + `" data-tab="` + t + `">` + strings.ToUpper(t[:1]) + t[1:] + "</button>")
	}
	out.raw("</nav>\n")
}
