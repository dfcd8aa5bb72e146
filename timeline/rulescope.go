package timeline

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// RuleScope limits where a setting of a rule applies. Words of one kind are
// alternatives; of different kinds all must fit.
type RuleScope struct{ songs, families, placed []string }

// ParseScope reads the scope of a setting; the errors name the words that cannot
// be read.
func ParseScope(items []string) (s RuleScope, errs []error) {
	for _, item := range items {
		key, word, ok := strings.Cut(item, "=")
		switch {
		case !ok || word == "":
			errs = append(errs, fmt.Errorf("scope %q must be written song=…, family=… or placed=…", item))
		case key == "song":
			s.songs = append(s.songs, word)
		case key == "family":
			s.families = append(s.families, word)
		case key == "placed":
			s.placed = append(s.placed, word)
		default:
			errs = append(errs, fmt.Errorf("scope %q: %q is none of song, family, placed", item, key))
		}
	}
	return s, errs
}

// Everywhere reports whether the scope limits nothing.
func (s *RuleScope) Everywhere() bool { return len(s.songs)+len(s.families)+len(s.placed) == 0 }

// Covers reports whether a setting applies to an article at a unit in a song;
// each of them may be nil.
func (s *RuleScope) Covers(song *Song, unit *Unit, article *Article) bool {
	if len(s.songs) > 0 && (song == nil || !slices.Contains(s.songs, string(song.ID)) && !slices.Contains(s.songs, song.Slug)) {
		return false
	}
	if len(s.families) > 0 && (article == nil || !slices.Contains(s.families, string(article.Family))) {
		return false
	}
	return len(s.placed) == 0 || unit != nil && slices.Contains(s.placed, string(unit.Placed.ID))
}

// RuleNumber gives the show's own number for a setting of a rule where it applies
// to an article at a unit; false where the show gives none, or one that cannot be
// read. What the model itself has to know of a rule's numbers is read here, so
// that the rule, the sheets and the edits go by the same one.
func (s *Show) RuleNumber(rule, name string, unit *Unit, article *Article) (x float64, ok bool) {
	return s.RuleNumberIn(nil, rule, name, unit, article)
}

// RuleNumberIn is RuleNumber in a song.
func (s *Show) RuleNumberIn(song *Song, rule, name string, unit *Unit, article *Article) (x float64, ok bool) {
	set := s.Setting(rule)
	if set == nil {
		return 0, false
	}
	if scope, errs := ParseScope(set.Scope); len(errs) > 0 || !scope.Everywhere() && !scope.Covers(song, unit, article) {
		return 0, false
	}
	for _, pair := range set.Values {
		text, named := strings.CutPrefix(pair, name+"=")
		if n, err := strconv.ParseFloat(text, 64); named && err == nil && n >= 0 && n <= 1e9 {
			x, ok = n, true
		}
	}
	return x, ok
}
