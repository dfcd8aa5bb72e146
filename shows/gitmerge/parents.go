package gitmerge

import (
	"fmt"
	"strings"

	"emberbeat/shows"
)

// Parents gives the revisions of the merge that the repository of a show is in the
// middle of, or ended with last: the one both started from, ours and theirs.
func Parents(dir string) (base, ours, theirs string, err error) {
	if _, _, err := repository(dir); err != nil {
		return "", "", "", err
	}
	ours, theirs = "HEAD", "MERGE_HEAD"
	if _, err := shows.Git(dir, "rev-parse", "--verify", "--quiet", theirs); err != nil {
		ours, theirs = "HEAD^1", "HEAD^2"
		if _, err := shows.Git(dir, "rev-parse", "--verify", "--quiet", theirs); err != nil {
			return "", "", "", fmt.Errorf("%s: the last commit is no merge, and none is going on", dir)
		}
	}
	out, err := shows.Git(dir, "merge-base", ours, theirs)
	if err != nil {
		return "", "", "", fmt.Errorf("%s: the two sides of the merge have nothing in common: %w", dir, err)
	}
	return strings.TrimSpace(out)[:12], ours, theirs, nil
}

// Base gives the revision where the one that is checked out and another part.
func Base(dir, rev string) (string, error) {
	out, err := shows.Git(dir, "merge-base", "HEAD", rev)
	if err != nil {
		return "", fmt.Errorf("%s: HEAD and %s have nothing in common: %w", dir, rev, err)
	}
	return strings.TrimSpace(out)[:12], nil
}
