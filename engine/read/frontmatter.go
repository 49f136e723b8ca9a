package read

import (
	"bytes"
	"errors"
)

var fence = []byte("---")

func trimBOM(src []byte) []byte { return bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")) }

// SplitFrontMatter parts a Markdown file into the YAML between its leading lines
// "---" and the text after it. The front matter begins at line 2 of the file;
// bodyLine is the line at which the body begins. Without a leading "---" all is
// body. A byte order mark is dropped, CRLF becomes LF. The error, without a
// place, says that the second "---" is missing: it belongs to line 1.
func SplitFrontMatter(src []byte) (front, body []byte, bodyLine int, err error) {
	src = bytes.ReplaceAll(trimBOM(src), []byte("\r\n"), []byte("\n"))
	first, rest, ok := bytes.Cut(src, []byte("\n"))
	if !isFence(first) {
		return nil, src, 1, nil
	}
	if !ok {
		return nil, nil, 0, errUnclosed
	}
	line, off := 2, 0
	for off < len(rest) {
		end := bytes.IndexByte(rest[off:], '\n')
		next := off + end + 1
		if end < 0 {
			end, next = len(rest)-off, len(rest)
		}
		line++
		if isFence(rest[off : off+end]) {
			return rest[:off], rest[next:], line, nil
		}
		off = next
	}
	return nil, nil, 0, errUnclosed
}

var errUnclosed = errors.New("the front matter that begins in line 1 is never closed; end it with a line ---")

func isFence(line []byte) bool { return bytes.Equal(bytes.TrimRight(line, " \t"), fence) }
