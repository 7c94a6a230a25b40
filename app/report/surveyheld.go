package report

import (
	"slices"

	"runnel/geo/survey"
)

// lessBy is by which share an error is less than the root mean square where that is
// worth a sentence.
const lessBy = 0.01

// LessWithEveryContour reports a survey whose error is less than the differences it
// was found from, for contours were held out.
func LessWithEveryContour(s survey.Survey) bool {
	contour := func(l survey.Line) bool { return l.Use == survey.Contour && !l.Out }
	q := s.Quality
	return q.HeldOut > 0 && q.Error < (1-lessBy)*q.RMSE && slices.ContainsFunc(s.Lines, contour)
}

// WithEveryContour says why an error is less than the differences it was found from.
const WithEveryContour = "With every contour in, the error is less than where contours were held out: the root mean square there ÷ √3."
