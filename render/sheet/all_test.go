package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"emberbeat/render"
	"emberbeat/render/paper"
	"emberbeat/shows/report"
	"emberbeat/shows/report/testshow"
	"emberbeat/timeline"
	"emberbeat/timeline/testtool"
)

// The page in front is one page on any paper, whatever the show, in a folder and in
// one file, and reads as written.
func TestFrontIsOnePage(t *testing.T) {
	faces := render.NewFaces()
	check := func(t require.TestingT, p *timeline.Plan, one bool) {
		front, all, err := All(p, report.Filter{}, paper.A4, one)
		require.NoError(t, err)
		for _, size := range paper.Sizes() {
			pages := front.Sheet.Printed().Pages(faces, size)
			if len(pages) > 1 { // no letter of a name that no font has is left untold, and that may take another
				require.Contains(t, paper.Plain(pages[0])+paper.Plain(pages[1]), "Not printed as written", size.Name)
				pages = pages[:len(pages)-1]
			}
			require.Len(t, pages, 1, size.Name)
		}
		require.Equal(t, FrontName, front.Name)
		want := 0
		for _, o := range Kinds() {
			if !o.Night || p.Night != nil {
				require.Equal(t, o.Name, all[want].Name)
				want++
			}
		}
		require.Len(t, all, want)
	}
	s := testshow.Staged(t)
	check(t, timeline.Compile(s, s.Night("n1")), true)
	check(t, timeline.Compile(exampleShow(t), nil), false)
	check(t, timeline.Compile(exampleShow(t), exampleShow(t).Nights[0]), true)
	for seed := range 3 {
		check(t, testshow.Hostile(t, seed*1000), seed == 1)
	}
	rapid.Check(t, func(t *rapid.T) {
		if rapid.IntRange(0, 29).Draw(t, "one in thirty") == 0 {
			check(t, timeline.Compile(testshow.Random(t, s), s.Night("n1")), rapid.Bool().Draw(t, "one file"))
		}
	})
}

// What the page in front says of the sheets is what they are: their pages, where they
// begin in one file, and who signs them.
func TestFrontTellsTheSheetsBehind(t *testing.T) {
	s := exampleShow(t)
	p := timeline.Compile(s, s.Nights[0])
	front, all, err := All(p, report.Filter{}, paper.A4, true)
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, front.Sheet.WriteJSON(&out))
	var said struct {
		Pages  int `json:"pages"`
		Sheets []struct {
			Name         string
			Pages, First int
			Sign         []string
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &said))
	require.Len(t, said.Sheets, len(all))
	page := 2
	for i, m := range all {
		pages := m.Sheet.Printed().Pages(render.NewFaces(), paper.A4)
		require.Equal(t, m.Name, said.Sheets[i].Name)
		require.Equal(t, len(pages), said.Sheets[i].Pages)
		require.Equal(t, page, said.Sheets[i].First)
		page += len(pages)
		text := ""
		for _, page := range pages {
			text += paper.Plain(page)
		}
		signed := strings.Contains(text, "Signatures\n") || strings.Contains(text, seenBy)
		require.Equal(t, signed, len(said.Sheets[i].Sign) > 0, "%s: %v", m.Name, said.Sheets[i].Sign)
		for _, who := range said.Sheets[i].Sign {
			require.Contains(t, text, who)
		}
	}
	require.Equal(t, page-1, said.Pages)
	i := slices.IndexFunc(all, func(m Made) bool { return m.Name == "misfire-log" })
	require.Equal(t, []string{"operator", "authority (AHJ)"}, said.Sheets[i].Sign)
}

// The page in front reads as written, as a file of its own and in front of a file; its
// pages are not pinned, since they grow with every sheet.
func TestFrontReads(t *testing.T) {
	s := testshow.Staged(t)
	p := timeline.Compile(s, s.Night("n1"))
	for name, one := range map[string]bool{"summary.page.txt": false, "summary-one.page.txt": true} {
		front, _, err := All(p, report.Filter{}, paper.A4, one)
		require.NoError(t, err)
		r := front.Sheet.(frontPage)
		r.Pages = 40
		for i := range r.Sheets {
			r.Sheets[i].Pages = i + 1
			if one {
				r.Sheets[i].First = 10 + i
			}
		}
		text := ""
		for _, page := range r.Printed().Pages(render.NewFaces(), paper.A4) {
			text += paper.Plain(page)
		}
		testshow.Golden(t, name, ruleCount.ReplaceAll([]byte(text), []byte("N rules")))
		var out bytes.Buffer
		require.NoError(t, front.Sheet.WriteCSV(&out))
		require.Contains(t, out.String(), "summary,")
		require.Contains(t, out.String(), "not permission to fire")
	}
}

// One PDF holds the page in front and every sheet, and says on each page which of all
// it is; another reader finds the outline.
func TestAllSheetsInOneFile(t *testing.T) {
	s := testshow.Staged(t)
	p := timeline.Compile(s, s.Night("n1"))
	front, all, err := All(p, report.Filter{}, paper.Letter, true)
	require.NoError(t, err)
	var out, again bytes.Buffer
	require.NoError(t, WriteAll(&out, front, all, paper.Letter))
	require.NoError(t, WriteAll(&again, front, all, paper.Letter))
	require.Equal(t, out.Bytes(), again.Bytes(), "same input, same bytes")
	testtool.Need(t, "pdftotext")
	c := exec.Command("pdftotext", "-layout", "-", "-")
	c.Stdin = &out
	text, err := c.Output()
	require.NoError(t, err)
	pages := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
	for i, page := range pages {
		require.Contains(t, page, fmt.Sprintf("· %d of all %d", i+1, len(pages)))
	}
	contents := regexp.MustCompile(`Misfire log +operator +(\d+) +(\d+)\s`).FindStringSubmatch(pages[0])
	require.NotNil(t, contents, pages[0])
	at := 0
	_, err = fmt.Sscan(contents[2], &at)
	require.NoError(t, err)
	require.Contains(t, pages[at-1], "Misfire log")
	require.Contains(t, pages[at-1], "page 1 of "+contents[1])
}
