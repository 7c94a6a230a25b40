package delimited

import "io"

// A Form is how the rows of a file are written, whatever they hold.
type Form struct {
	// Separator stands between fields; ' ' is any run of spaces and tabs.
	Separator rune
	// DecimalComma is set where 1,5 is one and a half.
	DecimalComma bool
	// Encoding is UTF8, UTF16LE, UTF16BE or Windows1252.
	Encoding string
	// Skip is how many lines come before the first row of figures.
	Skip int
	// Header holds the names of the columns, empty where they have none.
	Header []string
	// First holds the first rows as they stand in the file, at most 20, and Rows about
	// how many there are, from the size of the file.
	First [][]string
	Rows  int
}

// LookAt has something look at the beginning of a file of so many bytes. The error names
// the file.
func LookAt[L any](path string, look func(from io.Reader, size int64) (L, error)) (L, error) {
	file, size, err := Open(path)
	if err != nil {
		var none L
		return none, Named(path, err)
	}
	defer file.Close()
	l, err := look(file, size)
	return l, Named(path, err)
}
