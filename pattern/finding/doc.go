// Package finding says what is wrong with a pattern and where. An error value
// means that no pattern could be made; a Finding means that one was made and
// breaks a rule of bending, or that the bender should look at a place. It is
// data: sorted as the bender meets it, drawn on the sheet, printed, and the
// reason for exit status 3. Warnings of the shop's sheets are findings too, and
// so is what bender.pdf lacks.
package finding
