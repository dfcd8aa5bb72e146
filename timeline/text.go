package timeline

import (
	"strconv"
	"strings"
)

// cutSign removes a leading minus. A leading plus is not part of any text form.
func cutSign(s string) (rest string, negative bool) {
	return strings.CutPrefix(s, "-")
}

// digitsOnly reports whether s is one or more ASCII digits.
func digitsOnly(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// parseCount reads an unsigned decimal number up to limit: digits only.
func parseCount(s string, limit int64) (int64, bool) {
	if !digitsOnly(s) {
		return 0, false
	}
	n, err := strconv.ParseInt(s, 10, 64)
	return n, err == nil && n <= limit
}

// parseTwoDigits reads exactly two digits up to limit.
func parseTwoDigits(s string, limit int64) (int64, bool) {
	if len(s) != 2 {
		return 0, false
	}
	return parseCount(s, limit)
}

// appendTwoDigits appends n, from 0 to 99, as two digits.
func appendTwoDigits(b []byte, n int64) []byte {
	return append(b, byte('0'+n/10), byte('0'+n%10))
}

// quoted shows a rejected text in an error, shortened if it is long.
func quoted(s string) string {
	const longest = 40
	if len(s) > longest {
		return strconv.Quote(s[:longest]) + "…"
	}
	return strconv.Quote(s)
}
