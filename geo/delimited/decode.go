// Package delimited cuts text into rows of fields: what people send differs in what
// stands between the fields, what stands before the decimals and how the letters are
// encoded. What the rows mean is for those who read them.
package delimited

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// The encodings.
const (
	UTF8        = "UTF-8"
	UTF16LE     = "UTF-16LE"
	UTF16BE     = "UTF-16BE"
	Windows1252 = "Windows-1252"
)

// HeadBytes is how much of a file is looked at to find out what it is.
const HeadBytes = 64 << 10

// marks are the byte-order marks.
var marks = []struct{ mark, encoding string }{
	{"\xEF\xBB\xBF", UTF8}, {"\xFF\xFE", UTF16LE}, {"\xFE\xFF", UTF16BE},
}

// EncodingOf guesses the encoding of a text from its beginning. Without a mark,
// UTF-16 is known by its noughts, which stand beside every figure, and what is not
// UTF-8 is taken for Windows-1252.
func EncodingOf(head []byte) (string, error) {
	for _, m := range marks {
		if bytes.HasPrefix(head, []byte(m.mark)) {
			return m.encoding, nil
		}
	}
	var noughts [2]int
	for i, b := range head {
		if b == 0 {
			noughts[i%2]++
		}
	}
	half := len(head) / 2
	switch even, odd := noughts[0], noughts[1]; {
	case odd > half/2 && even < half/8:
		return UTF16LE, nil
	case even > half/2 && odd < half/8:
		return UTF16BE, nil
	case even+odd > 0:
		return "", fmt.Errorf("it is not text; give a table of rows with a comma, a semicolon, a tab or spaces between the fields")
	}
	whole := head
	for i := 0; i < utf8.UTFMax && len(whole) > 0 && !utf8.Valid(whole); i++ {
		whole = whole[:len(whole)-1] // the last letter may be cut
	}
	if utf8.Valid(whole) {
		return UTF8, nil
	}
	return Windows1252, nil
}

// Decoded returns a reader of UTF-8 without a byte-order mark.
func Decoded(r io.Reader, name string) (io.Reader, error) {
	var e encoding.Encoding
	switch name {
	case UTF8, "":
		return unmarked(r)
	case UTF16LE:
		e = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case UTF16BE:
		e = unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	case Windows1252:
		e = charmap.Windows1252
	default:
		return nil, fmt.Errorf("the encoding %q is not known; give %s, %s, %s or %s", name, UTF8, UTF16LE, UTF16BE, Windows1252)
	}
	return e.NewDecoder().Reader(r), nil
}

// unmarked takes the mark of UTF-8 off.
func unmarked(r io.Reader) (io.Reader, error) {
	start := make([]byte, 3)
	n, err := io.ReadFull(r, start)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return nil, err
	}
	start = bytes.TrimPrefix(start[:n], []byte(marks[0].mark))
	return io.MultiReader(bytes.NewReader(start), r), nil
}

// Readable returns a name or a code as UTF-8: text that is not is taken for
// Windows-1252, as it is where only a part of a file is looked at to find out.
func Readable(text string) string {
	if utf8.ValidString(text) {
		return text
	}
	decoded, err := charmap.Windows1252.NewDecoder().String(text)
	if err != nil {
		return string(bytes.ToValidUTF8([]byte(text), []byte("�")))
	}
	return decoded
}

// MostBytes is the largest file that is read.
const MostBytes = 2 << 30

// Open opens a file whose size is not out of reason.
func Open(path string) (*os.File, int64, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, 0, fmt.Errorf("it cannot be opened; look at its path, and at whether you may read it")
	}
	info, err := file.Stat()
	switch {
	case err != nil || !info.Mode().IsRegular():
		err = fmt.Errorf("it is not a regular file; copy its contents to one")
	case info.Size() > MostBytes:
		err = fmt.Errorf("it has %.1f GB, and a table may have %d; cut it to the site", float64(info.Size())/(1<<30), MostBytes>>30)
	}
	if err != nil {
		file.Close()
		return nil, 0, err
	}
	return file, info.Size(), nil
}

// Named begins an error with the file's name.
func Named(path string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", filepath.Base(path), err)
}
