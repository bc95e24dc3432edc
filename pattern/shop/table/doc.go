// Package table holds the shop's reference tables: tubes, glasses, gases,
// colours, electrodes, loading charts, supports, prices and the rest, each a
// CSV file embedded in the program, each row with its source and its grade.
//
//	set := table.Embedded()
//	set, err := set.Override("prices", "shop/prices.csv", data)   // the shop's own
//	set.Table("prices").WriteText(os.Stdout)
//
// A shop's file has the header of the table it belongs to. A row of it replaces
// the row with the same key, or is added. What is wrong with it is told with
// the file and the line; a file with a bad row is refused as a whole.
//
// Source keys (S20) are those of the table sources; a small letter after one is a
// part of it. The grades are explained in package quantity.
package table
