// Package shopsheet draws the shop's side of a job, shop.Plan, on sheets of
// paper: loading and wiring, materials and light, processing cards, the price for
// the shop, the quote for the customer.
//
//	shop.Plan ─ sections ─ rows ─ pages ─► []*sheet.Sheet ─ sheet/pdf.EncodeBook
//
// A section is laid out as rows that are not broken; rows flow down a page and
// on to the next, under the section's title again. What belongs to the customer
// never shares a page with what is the shop's only.
package shopsheet
