package timeline

import (
	"strconv"
	"strings"
)

// latin gives the plain letters for those of Western European languages, in
// lower case.
var latin = strings.NewReplacer(
	"à", "a", "á", "a", "â", "a", "ã", "a", "ä", "a", "å", "a", "æ", "ae", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e",
	"ì", "i", "í", "i", "î", "i", "ï", "i", "ñ", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ö", "o", "ø", "o", "œ", "oe",
	"ß", "ss", "ù", "u", "ú", "u", "û", "u", "ü", "u", "ý", "y", "ÿ", "y", "'", "", "’", "")

// SlugOf makes a name for a folder or file from what the crew calls a thing:
// small letters, digits and single hyphens, at most 40 characters. Text of
// which nothing is left gives "".
func SlugOf(text string) string {
	plain := latin.Replace(strings.ToLower(text))
	words := strings.FieldsFunc(plain, func(c rune) bool { return (c < 'a' || c > 'z') && (c < '0' || c > '9') })
	slug := strings.Join(words, "-")
	return strings.TrimRight(slug[:min(len(slug), 40)], "-")
}

// FreeSlug makes a slug that no record of a kind has in the show: from text,
// else from the kind's name, with a number at its end where it is taken.
func (s *Show) FreeSlug(k *Kind, text string) string {
	f, taken := k.Field("slug"), map[string]bool{}
	for _, r := range k.List(s, "") {
		taken[f.Get(r).Text] = true
	}
	first := SlugOf(text)
	if first == "" {
		first = k.Name
	}
	slug := first
	for n := 2; taken[slug]; n++ {
		end := "-" + strconv.Itoa(n)
		slug = strings.TrimRight(first[:min(len(first), 40-len(end))], "-") + end
	}
	return slug
}
