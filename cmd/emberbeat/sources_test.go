package main

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// citedPage is a page of text that a file speaks of.
var citedPage = regexp.MustCompile(`[A-Za-z0-9_./-]*[A-Za-z0-9_-]\.md\b`)

// citedSection is sections of a published document, which stands before them.
var citedSection = regexp.MustCompile(`(Vorbis I|RFC \d+|\b\d{4,5}(-\d+)?) §[\d.]+(, §[\d.]+)*`)

// missingSources gives what a file cites that a reader of the tree cannot open:
// pages that are not in it, folders beside it, sections of no document, and
// papers that were never published.
func missingSources(tree fs.FS, name, text string) []string {
	var list []string
	for _, p := range citedPage.FindAllString(text, -1) {
		here := path.Join(path.Dir(name), p)
		if !exists(tree, here) && !exists(tree, path.Clean(p)) && !exists(tree, path.Base(p)) {
			list = append(list, p)
		}
	}
	for _, line := range strings.Split(text, "\n") {
		if strings.Contains(citedSection.ReplaceAllString(line, ""), "§") {
			list = append(list, "a section of no document: "+strings.TrimSpace(line))
		}
	}
	for _, word := range []string{"trade" + "-facts", "trade" + " facts", "Trade" + "Facts", "ux-" + "conventions", "ears-" + "design", "house" + " page", "../" + "shared"} {
		if strings.Contains(text, word) {
			list = append(list, word)
		}
	}
	return list
}

func exists(tree fs.FS, name string) bool {
	if !fs.ValidPath(name) {
		return false
	}
	_, err := fs.Stat(tree, name)
	return err == nil
}

// Tests and comments cite what a reader of the tree can open: a published source
// by its name, a page of the tree, or they say that there is none.
func TestSourcesCanBeOpened(t *testing.T) {
	tree, read := os.DirFS("../.."), 0
	require.NoError(t, fs.WalkDir(tree, ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case e.IsDir() && strings.HasPrefix(e.Name(), ".") && name != "." && e.Name() != ".ci":
			return fs.SkipDir
		case name == "out":
			return fs.SkipDir
		case e.IsDir() || name == "cmd/emberbeat/sources_test.go":
			return nil
		}
		switch path.Ext(name) {
		case ".go", ".sh", ".json", ".toml", ".md", ".txtar", ".py":
		default:
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		read++
		assert.Empty(t, missingSources(tree, name, string(text)), name)
		return nil
	}))
	require.Greater(t, read, 500, "the tree was walked")

	for _, text := range []string{"// as in design-of-it.md", "// (§3.2)", "// derived, ../" + "shared"} {
		require.NotEmpty(t, missingSources(tree, "timeline/x.go", text), text)
	}
	for _, text := range []string{"// DEVELOPERS.md", "// RFC 9639 §9.1.8, §9.3", "// Vorbis I §3, of it", "// 11172-3 §2.4.1.3, 13818-3 §2.4.2.3)."} {
		require.Empty(t, missingSources(tree, "timeline/x.go", text), text)
	}
}
