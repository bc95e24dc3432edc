package quantity

// Unit is a unit of measurement in which quantities are written and printed.
type Unit int

// The units in use. A Piece is one thing counted: a pair, a bend, a weld.
const (
	One Unit = iota
	Percent
	Piece
	Millimetre
	Centimetre
	Metre
	Inch
	Foot
	SquareMillimetre
	SquareCentimetre
	SquareFoot
	Microlitre
	Millilitre
	Milligram
	Gram
	Kilogram
	GramPerCubicCentimetre
	GramPerMetre
	MilligramPerPiece
	MilligramPerCentimetre
	Volt
	Kilovolt
	VoltPerPiece
	KilovoltPerMetre
	Milliampere
	Ampere
	VoltAmpere
	Watt
	WattPerMetre
	Torr
	Millibar
	Micron
	TorrMillimetre
	TorrMillilitre
	Celsius
	Second
	Minute
	Hour
	MinutePerPiece
	Money
	MoneyPerPiece
	MoneyPerMetre
	MoneyPerHour
	Lumen
	LumenPerMetre
	MetrePerPiece
	MillimetrePerPiece
	PerKelvin
	unitCount
)

// dimension holds the exponents of the base dimensions.
type dimension struct{ length, mass, time, current, temperature, light, money, piece int8 }

func (d dimension) plus(e dimension, sign int8) dimension {
	return dimension{
		d.length + sign*e.length, d.mass + sign*e.mass, d.time + sign*e.time, d.current + sign*e.current,
		d.temperature + sign*e.temperature, d.light + sign*e.light, d.money + sign*e.money, d.piece + sign*e.piece,
	}
}

// unitInfo is the symbol, the size in SI units as a fraction, and the dimension.
type unitInfo struct {
	symbol   string
	num, den int64
	dim      dimension
}

// info returns what a unit is. The inch is 25.4 mm and the standard atmosphere
// of 760 Torr 101,325 Pa, both exact by definition; a micron of pressure is a
// thousandth of a Torr.
func (u Unit) info() unitInfo {
	var (
		length   = dimension{length: 1}
		area     = dimension{length: 2}
		volume   = dimension{length: 3}
		mass     = dimension{mass: 1}
		seconds  = dimension{time: 1}
		current  = dimension{current: 1}
		power    = dimension{mass: 1, length: 2, time: -3}
		volt     = dimension{mass: 1, length: 2, time: -3, current: -1}
		pressure = dimension{mass: 1, length: -1, time: -2}
		piece    = dimension{piece: 1}
		money    = dimension{money: 1}
		light    = dimension{light: 1}
	)
	per := func(a, b dimension) dimension { return a.plus(b, -1) }
	return [unitCount]unitInfo{
		One:                    {"", 1, 1, dimension{}},
		Percent:                {"%", 1, 100, dimension{}},
		Piece:                  {"", 1, 1, piece},
		Millimetre:             {"mm", 1, 1000, length},
		Centimetre:             {"cm", 1, 100, length},
		Metre:                  {"m", 1, 1, length},
		Inch:                   {"in", 254, 10000, length},
		Foot:                   {"ft", 3048, 10000, length},
		SquareMillimetre:       {"mm²", 1, 1e6, area},
		SquareCentimetre:       {"cm²", 1, 1e4, area},
		SquareFoot:             {"ft²", 9290304, 1e8, area},
		Microlitre:             {"µl", 1, 1e9, volume},
		Millilitre:             {"ml", 1, 1e6, volume},
		Milligram:              {"mg", 1, 1e6, mass},
		Gram:                   {"g", 1, 1000, mass},
		Kilogram:               {"kg", 1, 1, mass},
		GramPerCubicCentimetre: {"g/cm³", 1000, 1, per(mass, volume)},
		GramPerMetre:           {"g/m", 1, 1000, per(mass, length)},
		MilligramPerPiece:      {"mg each", 1, 1e6, per(mass, piece)},
		MilligramPerCentimetre: {"mg/cm", 1, 1e4, per(mass, length)},
		Volt:                   {"V", 1, 1, volt},
		Kilovolt:               {"kV", 1000, 1, volt},
		VoltPerPiece:           {"V each", 1, 1, per(volt, piece)},
		KilovoltPerMetre:       {"kV/m", 1000, 1, per(volt, length)},
		Milliampere:            {"mA", 1, 1000, current},
		Ampere:                 {"A", 1, 1, current},
		VoltAmpere:             {"VA", 1, 1, power},
		Watt:                   {"W", 1, 1, power},
		WattPerMetre:           {"W/m", 1, 1, per(power, length)},
		Torr:                   {"Torr", 101325, 760, pressure},
		Millibar:               {"mbar", 100, 1, pressure},
		Micron:                 {"micron", 101325, 760000, pressure},
		TorrMillimetre:         {"Torr·mm", 101325, 760000, pressure.plus(length, 1)},
		TorrMillilitre:         {"Torr·ml", 101325, 760000000, pressure.plus(volume, 1)},
		Celsius:                {"°C", 1, 1, dimension{temperature: 1}},
		Second:                 {"s", 1, 1, seconds},
		Minute:                 {"min", 60, 1, seconds},
		Hour:                   {"h", 3600, 1, seconds},
		MinutePerPiece:         {"min each", 60, 1, per(seconds, piece)},
		Money:                  {"", 1, 1, money},
		MoneyPerPiece:          {"each", 1, 1, per(money, piece)},
		MoneyPerMetre:          {"a metre", 1, 1, per(money, length)},
		MoneyPerHour:           {"an hour", 1, 3600, per(money, seconds)},
		Lumen:                  {"lm", 1, 1, light},
		LumenPerMetre:          {"lm/m", 1, 1, per(light, length)},
		MetrePerPiece:          {"m each", 1, 1, per(length, piece)},
		MillimetrePerPiece:     {"mm each", 1, 1000, per(length, piece)},
		PerKelvin:              {"10⁻⁷/K", 1, 1e7, dimension{temperature: -1}},
	}[u]
}

// Symbol returns the unit as it is printed after a number; plain numbers,
// counts and amounts of money have none.
func (u Unit) Symbol() string { return u.info().symbol }
