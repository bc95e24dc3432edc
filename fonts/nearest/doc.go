// Package nearest finds the word that a mistyped one was meant to be, so that
// an error can offer it.
//
// Words are compared by Levenshtein's distance: the fewest letters to add, drop
// or replace. The table is filled row by row (Wagner and Fischer, 1974).
package nearest
