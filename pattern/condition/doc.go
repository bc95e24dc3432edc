// Package condition makes drawn strokes fit for a tube: corners are rounded,
// arcs tighter than the glass allows are opened, and what that changes is
// reported.
package condition
