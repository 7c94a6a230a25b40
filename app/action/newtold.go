package action

import (
	"fmt"
	"strings"

	"runnel/app/groundwork"
	"runnel/app/report"
	"runnel/geo/survey"
)

// tellMade says what was found in the measurements and how good the ground is.
func (n *New) tellMade(s Streams, made groundwork.Made) {
	proposed := 0
	var sentences []string
	for _, f := range made.Faults {
		if f.Leave {
			proposed++
		}
		sentences = append(sentences, clause(f.Says))
	}
	tellAll(s, sentences)
	switch {
	case proposed > 0 && !n.LeaveOut:
		s.say("all that was measured is kept; --leave-out leaves out what is proposed for " + number(proposed, "fault", "faults"))
	case made.Left > 0:
		s.say(number(made.Left, "line or point is left out", "lines and points are left out"))
	}
	f := made.Ground.Frame
	s.say(fmt.Sprintf("the ground has %d by %d cells of %s m, made with a tension of %s", f.W, f.H, report.Figure(f.DX).With(2), report.Figure(made.Survey.Quality.Tension).With(2)))
	if made.Sunk > 0 {
		s.say(number(made.Sunk, "hollow that no measurement calls for was let out", "hollows that no measurement calls for were let out"))
	}
	if made.Stayed > 0 {
		s.say(number(made.Stayed, "hollow that no measurement calls for could not be let out", "hollows that no measurement calls for could not be let out") +
			": measurements beside the way out hold the ground there; look at them in the step Water, or give more measurements there")
	}
	tellQuality(s, made.Survey)
}

// behindNames makes sentences that stand behind the names of files fit to stand there.
func behindNames(notes []string) []string {
	fit := make([]string, len(notes))
	for i, note := range notes {
		fit[i] = clause(note)
		if name, said, ok := strings.Cut(note, ": "); ok {
			fit[i] = name + ": " + clause(said)
		}
	}
	return fit
}

func tellQuality(s Streams, made survey.Survey) {
	q := made.Quality
	metres := func(v float64) string { return report.Figure(v).With(3) + " m" }
	if q.HeldOut > 0 {
		s.say(fmt.Sprintf("%s held out in turn: the ground of the others is off there by %s (root mean square), %s at worst, with a bias of %s",
			number(q.HeldOut, "measurement was", "measurements were"), metres(q.RMSE), metres(q.Worst), metres(q.Bias)))
	}
	if groundwork.Unchecked(made) {
		s.say("nothing could be held out, so how far the ground is off is not known")
	}
	if q.Error > 0 {
		s.say(fmt.Sprintf("reckoned with is an error of %s (standard deviation) that reaches %s m", metres(q.Error), report.Figure(q.Reach).With(1)))
	}
	if report.LessWithEveryContour(made) {
		s.say(clause(report.WithEveryContour))
	}
}

// number writes how many there are of something.
func number(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n) + " " + more
}
