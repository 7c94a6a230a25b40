package delimited

import "testing"

func TestWhatIsNotCertainlyAThousandIsNotTakenForOne(t *testing.T) {
	for text, want := range map[string]bool{
		"1,234.5": true, "1.234,5": true, "1,234,567": true, "12'345.25": true, "1 234.5": true, "-1,234.5": true, "1\u00a0234.5": true, "1’234": true,
		"1,234": false, "1.234": false, "1234.5": false, "12,34.5": false, "1,23,456": false, "10:20:30": false, "GS 1": false, "": false, "1,234.": true,
		"1234,567.5": false, "5'10": false, "2024.05.03": false,
	} {
		if got := Grouped([]byte(text)); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
