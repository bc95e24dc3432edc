// Package network finds where strokes meet and makes one plane graph of them.
//
//	[]Path ─ Meetings of every pair ─► stops on strokes ─ merge ─► Graph
//
// Nodes are the ends of strokes, the places where the end of one lies on
// another, and crossings, of a stroke with itself too. Edges are the pieces of
// stroke between them. What a bender asks of the graph is how many tubes or
// double-backs a letter needs, and that is a matter of odd nodes: a tube that
// runs through every piece once exists only if there are none or two (Euler
// 1736), and otherwise half as many tubes as odd nodes are needed (Listing
// 1847).
//
// Lengths are mm, distances along a path are measured from its start.
package network
