package nearest

import "strings"

// Word returns the word of the list that needs the fewest single-letter
// changes to become the given one (Levenshtein's distance, letter case
// ignored), or "" where every word is further than a slip of the fingers: two
// changes, or a third of the word where that is more. The first word wins a tie. A word
// that was cut short, and so begins only one of the list, is that one, unless another
// is a single change away.
func Word(word string, list []string) string {
	if len(word) > 64 {
		return "" // no slip of the fingers; and the cost grows with the length
	}
	best, least := "", max(2, len(word)/3)+1
	for _, w := range list {
		if d := Changes(strings.ToLower(word), strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	if whole := begunBy(word, list); whole != "" && least > 1 {
		return whole
	}
	if least >= len(best) {
		return "" // as well any other word
	}
	return best
}

// shortest is the least number of letters that tell what a word cut short was to be.
const shortest = 3

// begunBy returns the one word of the list that begins with the given one.
func begunBy(word string, list []string) string {
	out := ""
	for _, w := range list {
		if len(word) >= shortest && len(w) >= len(word) && strings.EqualFold(w[:len(word)], word) {
			if out != "" {
				return ""
			}
			out = w
		}
	}
	return out
}

// Changes counts the bytes to add, drop or replace that turn a into b.
func Changes(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			replaced := diagonal
			if a[i] != b[j] {
				replaced++
			}
			diagonal = row[j+1]
			row[j+1] = min(replaced, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}
