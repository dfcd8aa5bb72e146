// Package gitmerge lets git merge the files of shows as this program does.
//
// Its one rule: a merge with it is never worse than one without. What it cannot
// read it leaves to git's own merge, and what it writes can always be opened.
package gitmerge
