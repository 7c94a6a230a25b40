package report

import (
	"context"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"

	"runnel/analysis/channel"
	"runnel/analysis/compare"
	"runnel/analysis/earthwork"
	"runnel/analysis/hydraulics"
	"runnel/geo"
	"runnel/geo/plan"
)

// Shape is what is worked out of a scheme beyond its account: what its winding buys,
// what a little more of each dimension buys, the earth by sections and on cells, the
// water that keeps roots on its islands or off them, and the steady flow.
type Shape struct {
	Gain        compare.Gain
	Sensitivity compare.Sensitivity
	Earth       earthwork.Earth
	Barriers    []channel.Barrier
	// Dry is on how many days a year each of them stands dry.
	Dry  []geo.Range
	Flow hydraulics.Result
}

// NewShape works it out of an account of a site.
func NewShape(ctx context.Context, s *plan.Site, a *compare.Account) (Shape, error) {
	shape := Shape{Barriers: a.Network.Barriers()}
	for _, b := range shape.Barriers {
		shape.Dry = append(shape.Dry, b.DryDays(a.Network.RunDaysOf(b.ID, s.Setting.RunDays)))
	}
	group, ctx := errgroup.WithContext(ctx)
	group.Go(func() (err error) {
		if shape.Gain, err = compare.GainOf(ctx, s, a); err == nil {
			shape.Earth, err = earthwork.EndAreas(ctx, s.Ground, a.Network, 0)
		}
		return err
	})
	group.Go(func() (err error) {
		if shape.Sensitivity, err = compare.SensitivityOf(ctx, s, a); err == nil {
			shape.Flow, err = hydraulics.Flow(ctx, s, a.Network, hydraulics.Options{})
		}
		return err
	})
	return shape, group.Wait()
}

// ShapeFigures are a Shape as it is written.
type ShapeFigures struct {
	StraightRatio Figure             `json:"contact_ratio_to_straight"`
	Gain          GainFigures        `json:"gain"`
	Sensitivity   SensitivityFigures `json:"sensitivity"`
	Earth         EarthFigures       `json:"earth"`
	Barriers      []BarrierFigures   `json:"root_barriers"`
	Flow          *FlowFigures       `json:"flow"`
	FlowFull      *FlowFigures       `json:"flow_with_drains_full"`
}

// GainFigures are what winding buys; Why says why nothing is told.
type GainFigures struct {
	Why      string      `json:"why_not,omitempty"`
	Sentence string      `json:"sentence"`
	Bank     string      `json:"sentence_on_bank,omitempty"`
	Stores   string      `json:"sentence_on_storage,omitempty"`
	Notes    []string    `json:"notes"`
	Winding  *LedFigures `json:"winding"`
	Straight *LedFigures `json:"straight_as_drawn"`
	Equal    *LedFigures `json:"straight_of_equal_dig"`
	Contact  Figure      `json:"contact_bought_m2"`
	Share    Figure      `json:"contact_bought_share"`
}

// LedFigures are what channels come to that are led one way.
type LedFigures struct {
	Contact  Figure `json:"contact_area_m2"`
	WetBank  Figure `json:"wet_bank_m"`
	Storage  Figure `json:"storage_m3"`
	Length   Figure `json:"length_m"`
	Dug      Figure `json:"dug_m3"`
	BedWidth Figure `json:"bed_width_m"`
}

// SensitivityFigures are what a little more of each lever buys.
type SensitivityFigures struct {
	Why   string         `json:"why_not,omitempty"`
	Level string         `json:"sentence_on_level"`
	Rows  []LeverFigures `json:"rows"`
}

// LeverFigures are what one more metre of a lever buys and costs.
type LeverFigures struct {
	Lever   string `json:"one_more_metre_of"`
	Contact Figure `json:"contact_m2_per_m"`
	Dig     Figure `json:"dug_m3_per_m"`
	PerDig  Figure `json:"contact_m2_per_m3"`
	Level   Figure `json:"water_level_m_per_m"`
	Note    string `json:"note"`
}

// EarthFigures are the volumes of earth by three ways, in place.
type EarthFigures struct {
	AverageEnd MovedFigures `json:"average_end_area"`
	Prismoidal MovedFigures `json:"prismoidal"`
	Cells      MovedFigures `json:"cells"`
	Sills      MovedFigures `json:"sills_on_cells"`
}

// MovedFigures are a cut and a fill.
type MovedFigures struct {
	Cut  Figure `json:"cut_m3"`
	Fill Figure `json:"fill_m3"`
}

// BarrierFigures is the water round one island.
type BarrierFigures struct {
	ID         plan.ID   `json:"id"`
	Name       string    `json:"name"`
	Closed     bool      `json:"closed"`
	Narrowest  Figure    `json:"narrowest_m"`
	Shallowest Figure    `json:"shallowest_m"`
	NarrowAt   [2]Figure `json:"narrowest_at"`
	ShallowAt  [2]Figure `json:"shallowest_at"`
	// Dry is null where water does not stand all round even while it runs.
	Dry *RangeFigures `json:"days_dry_a_year"`
}

// Figures makes figures of a shape.
func (s Shape) Figures() *ShapeFigures {
	f := &ShapeFigures{StraightRatio: Figure(s.Gain.Ratio), Gain: gainOf(s.Gain), Sensitivity: sensitivityOf(s.Sensitivity), Barriers: []BarrierFigures{}}
	f.Earth = EarthFigures{movedOf(s.Earth.AverageEnd), movedOf(s.Earth.Prismoidal), movedOf(s.Earth.Grid), movedOf(s.Earth.Sills)}
	f.Flow, f.FlowFull = flowOf(&s.Flow), flowOf(&hydraulics.Result{})
	if s.Flow.Full != nil {
		f.FlowFull = flowOf(s.Flow.Full)
	}
	for i, b := range s.Barriers {
		one := BarrierFigures{b.ID, b.Title, b.Closed, Figure(b.Narrowest), Figure(b.Shallowest), placeOf(b.NarrowAt), placeOf(b.ShallowAt), nil}
		if b.Closed {
			dry := rangeOf(s.Dry[i])
			one.Dry = &dry
		}
		f.Barriers = append(f.Barriers, one)
	}
	return f
}

func gainOf(g compare.Gain) GainFigures {
	f := GainFigures{Why: g.Why, Sentence: g.Sentence(), Bank: g.EdgeSentence(), Stores: g.StorageSentence(), Notes: append([]string{}, g.Notes...), Contact: Figure(g.Contact), Share: Figure(g.Share)}
	if g.Why == "" {
		f.Winding, f.Straight, f.Equal = ledOf(g.Winding), ledOf(g.Straight), ledOf(g.Equal)
	}
	return f
}

func ledOf(l compare.Led) *LedFigures {
	return &LedFigures{Figure(l.Contact), Figure(l.WetEdge), Figure(l.Storage), Figure(l.Length), Figure(l.Dug), Figure(l.BedWidth)}
}

func sensitivityOf(s compare.Sensitivity) SensitivityFigures {
	f := SensitivityFigures{Why: s.Why, Level: s.LevelSentence(), Rows: []LeverFigures{}}
	for _, r := range s.Rows {
		f.Rows = append(f.Rows, LeverFigures{leverName(r), Figure(r.Contact), Figure(r.Dig), Figure(r.PerDig), Figure(r.Level), r.Note()})
	}
	return f
}

// leverName says what is made more of.
func leverName(r compare.SensitivityRow) string {
	if r.Arms {
		return string(r.Lever) + ", islands' arms too"
	}
	return string(r.Lever)
}

func placeOf(p orb.Point) [2]Figure { return [2]Figure{Figure(p[0]), Figure(p[1])} }

func movedOf(v earthwork.Volumes) MovedFigures { return MovedFigures{Figure(v.Cut), Figure(v.Fill)} }
