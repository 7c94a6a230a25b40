package action

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"runnel/app/groundwork"
)

func TestNotesBehindNamesOfFilesHaveOneForm(t *testing.T) {
	got := behindNames([]string{"a.tif: It does not say where it lies.", "Where files overlap the earlier one stands."})
	want := []string{"a.tif: it does not say where it lies", "where files overlap the earlier one stands"}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestAHollowThatStayedIsToldWithWhatToDo(t *testing.T) {
	var said bytes.Buffer
	(&New{}).tellMade(Streams{Err: &said}, groundwork.Made{Stayed: 2})
	if got := said.String(); !strings.Contains(got, "2 hollows that no measurement calls for could not be let out: ") || !strings.Contains(got, "give more measurements there") {
		t.Errorf("it says %q", got)
	}
}
