// Package paper lays pages out for a printer at home or in a shop: sizes of paper,
// margins, what stands on every page (title, job, frame, rulers on both axes, the
// correction of the printer), and words and tables that flow from page to page.
//
//	Size ─ Format ─► Area: what is free      Flow: rows of words ─► pages
//	           └───► Furniture: the rest
//
// All lengths are true millimetres: those of the print after correction. Where the
// printer is not true, the page is laid out on paper of Width/X by Height/Y and
// drawn larger by these factors (sheet.Stretch), so that it comes out right.
package paper
