package table

// kind says what may stand in a column.
type kind int

const (
	word    kind = iota // one line of text
	key                 // letters, digits, '.', '-' and spaces; part of the row's key
	decimal             // a plain decimal number within the column's range
	yesNo
	choice
)

// column describes the cells of a column. Optional cells may be empty.
type column struct {
	name      string
	kind      kind
	optional  bool
	low, high float64 // of a decimal, both included
	choices   []string
}

// schema describes a table: its key columns are those of kind key, and of kind
// decimal where inKey says so.
type schema struct {
	name, title string
	columns     []column
	keys        int // the first so many columns make the key of a row
}

func id(name string) column   { return column{name: name, kind: key} }
func text(name string) column { return column{name: name, optional: true} }
func number(name string, low, high float64) column {
	return column{name: name, kind: decimal, low: low, high: high}
}
func maybe(c column) column { c.optional = true; return c }
func oneOf(name string, choices ...string) column {
	return column{name: name, kind: choice, choices: choices}
}

// Grades of a row, as package quantity explains them.
func grades() []string {
	return []string{"P", "P-weak", "D", "C", "M", "M-low", "invented", "own"}
}

// schemas lists the tables in the order they are shown.
func schemas() []schema {
	mm := func(name string) column { return number(name, 0.1, 10000) }
	settings := []column{id("setting"), number("value", 0, 1e6), word1("unit"), text("meaning")}
	list := []schema{
		{"tubes", "tube sizes and walls", []column{mm("diameter_mm"), number("wall_mm", 0.2, 5), text("use")}, 1},
		{"glasses", "kinds of glass and what they weld to", []column{
			id("glass"), word1("name"), oneOf("class", "soft", "hard"),
			maybe(number("strain_c", 200, 2000)), maybe(number("anneal_c", 200, 2000)), maybe(number("soften_c", 200, 2000)), maybe(number("work_c", 200, 2500)),
			maybe(number("expansion_e7", 1, 300)), maybe(number("density_g_cm3", 1, 10)), text("habit")}, 1},
		{"gases", "gases", []column{id("gas"), word1("name"), maybe(oneOf("chart_gas", "neon", "argon")), {name: "mercury", kind: yesNo}, text("note")}, 1},
		{"colours", "colours: gas, glass and coating", []column{
			id("colour"), word1("seen"), id("gas"), text("tint"), text("coating"), text("glass"), maybe(number("lumens_per_metre", 0, 10000))}, 1},
		{"electrodes", "electrodes", []column{
			id("electrode"), word1("name"), mm("jacket_mm"), number("least_ma", 0, 1000), number("most_ma", 1, 1000), mm("length_least_mm"), mm("length_most_mm")}, 1},
		{"electrode-classes", "current class by tube diameter", []column{id("school"), mm("diameter_mm"), number("class_ma", 1, 1000)}, 2},
		{"charts", "loading charts: one pair allowance each, never shared", []column{
			id("chart"), word1("name"), oneOf("kind", "limit", "factor"), oneOf("unit", "m", "ft"), number("pair_allowance_m", 0, 5),
			oneOf("applied", "load", "limit"), oneOf("supply", "magnetic", "electronic"), number("most_kv", 0.5, 15), text("note")}, 1},
		{"chart-limits", "loading charts of kind limit: most length a rating carries", []column{
			id("chart"), oneOf("gas", "neon", "argon"), mm("diameter_mm"), number("kv", 0.1, 15), number("most", 0.01, 1000), maybe(number("least", 0, 1000))}, 4},
		{"chart-factors", "loading charts of kind factor: kilovolts a metre", []column{
			id("chart"), oneOf("gas", "neon", "argon"), mm("diameter_mm"), number("kv_per_m", 0.01, 10)}, 3},
		{"gradients", "running gradient, derived from the charts", []column{id("chart"), oneOf("gas", "neon", "argon"), mm("diameter_mm"), number("kv_per_m", 0.01, 10)}, 3},
		{"pressures", "fill pressure by diameter", []column{mm("diameter_mm"), number("torr", 0.1, 100), text("note")}, 1},
		{"stages", "processing stages", []column{number("stage", 1, 99), word1("name"), text("what"), text("published"), text("own")}, 1},
		{"faults", "faults and what they mean", []column{id("fault"), word1("likely"), word1("remedy")}, 1},
		{"supports", "supports, housings and distances", settings, 1},
		{"legibility", "reading distance of red neon", []column{number("height_in", 0.5, 500), number("farthest_ft", 1, 1e5), text("note")}, 1},
		{"places", "places: default chart, codes, mercury", []column{
			id("place"), word1("name"), id("chart"), maybe(number("isolated_limit_kv", 0, 15)), text("code"), text("mercury")}, 1},
		{"limits", "limits of the codes, as reminders", []column{id("item"), word1("value"), oneOf("applies", "magnetic", "electronic", "both")}, 1},
		{"settings", "figures of the shop's rules", settings, 1},
		{"prices", "minutes and prices", settings, 1},
		{"sources", "the published sources that rows and rules cite", []column{id("key"), word1("what")}, 1},
		{"cautions", "cautions and the sheet they stand on", []column{id("caution"), oneOf("sheet", "loading", "materials", "process"), word1("text")}, 1},
	}
	for i := range list {
		list[i].columns = append(list[i].columns, text("source"), oneOf("grade", grades()...))
	}
	return list
}

func word1(name string) column { return column{name: name} }

// Names lists the tables in the order they are shown.
func Names() []string {
	var out []string
	for _, s := range schemas() {
		out = append(out, s.name)
	}
	return out
}
