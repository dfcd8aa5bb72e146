package shows

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// RevisionStorage gives the files of a show, recordings excepted, as they were in
// a revision of the git repository that its folder is in. They can be read alone.
// rev is whatever git takes for one: a branch, a tag, HEAD~2, a hash.
func RevisionStorage(dir, rev string) (Storage, error) {
	hash, err := Git(dir, "rev-parse", "--verify", "--quiet", "--end-of-options", rev+"^{commit}")
	if err != nil {
		return nil, fmt.Errorf("%s: git knows no revision %q of the repository that the folder is in", dir, rev)
	}
	out, err := Git(dir, "archive", "--format=zip", strings.TrimSpace(hash), "--", "*.toml")
	if err != nil {
		return nil, fmt.Errorf("%s: there was no show in revision %s", dir, rev)
	}
	z, err := zip.NewReader(strings.NewReader(out), int64(len(out)))
	if err != nil {
		return nil, fmt.Errorf("%s: what git gives of revision %s cannot be read: %w", dir, rev, err)
	}
	return FS(z), nil
}

// revision gives a version that stands in a git repository, if there is one.
func revision(dir, rev string) (*Version, error) {
	if _, err := os.Stat(filepath.Join(dir, showFile)); err != nil || rev == "" {
		return nil, nil
	}
	if _, err := Git(dir, "rev-parse", "--show-toplevel"); err != nil {
		return nil, nil
	}
	st, err := RevisionStorage(dir, rev)
	if err != nil {
		return nil, err
	}
	v := &Version{Rev: rev, st: st}
	if text, err := Git(dir, "show", "-s", "--format=%cI", rev); err == nil {
		v.Time, _ = time.Parse(time.RFC3339, strings.TrimSpace(text)) // no time is the zero one
	}
	return v, nil
}

// Git runs git in a folder and gives what it prints. An error holds what it says.
func Git(dir string, args ...string) (string, error) {
	cmd := exec.Command("git", args...)
	cmd.Dir = dir
	// Within a hook or a merge driver git names its own folder, which is not that of dir.
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, "GIT_DIR=") && !strings.HasPrefix(v, "GIT_WORK_TREE=") && !strings.HasPrefix(v, "GIT_INDEX_FILE=") {
			cmd.Env = append(cmd.Env, v)
		}
	}
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	err := cmd.Run()
	if errors.Is(err, exec.ErrNotFound) {
		return "", errors.New("git is not installed, or not in the PATH")
	}
	if err != nil {
		return out.String(), fmt.Errorf("git %s: %s", args[0], strings.TrimSpace(said.String()+" "+err.Error()))
	}
	return out.String(), nil
}
