// Package preview writes preview.html: the glass in three dimensions in one file that
// opens from the disk in any browser, and shows every heat in the planned order.
//
//	result.json ─┐
//	plan, lights ┼─ Write ─► preview.html ─ page/src/main.js ─► three.js, or a drawing
//	             │            where the browser has no WebGL
//	template.html, style.css, page/bundle.js
//
// The page fetches nothing: its policy allows only the script and the style that are
// in it, known by their hashes. Text of a job is written into the page only as JSON in
// which no character can end the element, and the script puts it on the page as text.
//
// The script is bundled from page/src and three.js (MIT; its licence is at the head of
// the bundle) by `npm ci && npm run build` in page; the bundle is kept in the
// repository, and a check builds it again and compares.
package preview
