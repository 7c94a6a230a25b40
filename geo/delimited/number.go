package delimited

import (
	"bytes"
	"math"
	"strconv"
)

// longestNumber is the longest text that is taken for a number.
const longestNumber = 40

// Number reads a decimal number with a point or a comma before the decimals.
func Number(text []byte, comma bool) (float64, bool) {
	var short [longestNumber]byte
	if len(text) == 0 || len(text) > longestNumber {
		return 0, false
	}
	plain, digits := short[:0], 0
	for i, b := range text {
		switch {
		case b >= '0' && b <= '9':
			digits++
		case b == ',' && comma:
			b = '.'
		case b == '.' && !comma:
		case (b == '+' || b == '-') && i+1 < len(text):
		case (b == 'e' || b == 'E') && digits > 0:
		case b == 0xE2 || b == 0x88 || b == 0x92:
			return minus(text, comma)
		default:
			return 0, false
		}
		plain = append(plain, b)
	}
	if digits == 0 || comma && text[len(text)-1] == ',' {
		return 0, false // a comma behind a number ends a field, or a sentence
	}
	v, err := strconv.ParseFloat(string(plain), 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// minus reads a number that begins with the minus sign of typesetters.
func minus(text []byte, comma bool) (float64, bool) {
	rest, found := bytes.CutPrefix(text, []byte("\u2212"))
	if !found || bytes.ContainsAny(rest, "+-\u2212") && !bytes.ContainsAny(rest, "eE") {
		return 0, false
	}
	v, ok := Number(rest, comma)
	return -v, ok
}

// Grouped reports a number whose thousands are set apart, where that is certain:
// 1,234.5 and 1.234,5 and 1,234,567 and 1'234.5 and 1 234.5. A plain 1,234 may be
// a number with three decimals.
func Grouped(text []byte) bool {
	if len(text) < 5 || len(text) > longestNumber {
		return false
	}
	var mark byte
	groups, run, after := 0, 0, byte(0)
	text = bytes.TrimLeft(bytes.ReplaceAll(bytes.ReplaceAll(text, []byte("\u00a0"), []byte(" ")), []byte("\u202f"), []byte(" ")), "+-")
	text = bytes.ReplaceAll(text, []byte("\u2019"), []byte("'"))
	for _, b := range text {
		switch {
		case b >= '0' && b <= '9':
			run++
			continue
		case after != 0 || b != ',' && b != '.' && b != '\'' && b != ' ':
			return false
		case mark != 0 && b != mark: // the decimals begin
			if run != 3 || b != ',' && b != '.' {
				return false
			}
			after, run = b, 0
			continue
		case mark == 0 && (run == 0 || run > 3), mark != 0 && run != 3:
			return false
		}
		mark, run = b, 0
		groups++
	}
	certain := groups > 1 || after != 0 || mark == '\'' || mark == ' '
	return groups > 0 && certain && (after != 0 || run == 3)
}
