package table

import "bytes"

// NoHeight reports whether text is empty or one of the usual marks of no height.
func NoHeight(text string) bool { return noHeight([]byte(text)) }

// noHeight reports whether text says that there is no height.
func noHeight(text []byte) bool {
	switch len(text) {
	case 0:
		return true
	case 1, 2, 3, 4, 5, 6, 7, 8, 9, 10:
	default:
		return false
	}
	switch string(bytes.ToLower(text)) {
	case "nan", "na", "n/a", "null", "none", "-", "--", "---", "*", "?", "nodata",
		"-9999", "-9999.0", "-9999.00", "-9999.000", "-9999,0", "-9999,00", "-9999,000", "-99999", "-32768":
		return true
	}
	return false
}
