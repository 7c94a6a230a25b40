package ui

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"runnel/analysis/compare"
	"runnel/analysis/soakin"
	"runnel/app/site"
	"runnel/assets/demo"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// soaked opens a site in the Soak step and waits for its account.
func (b *bench) soaked(s plan.Site) {
	b.t.Helper()
	b.put(site.New(s, filepath.Join(b.t.TempDir(), "soak.gpkg")))
	b.showScheme(s.Plan.Schemes[0].ID)
	b.goTo(stepSoak)
	b.accounted()
}

// accounted waits until what soaks in is of the drawing as it is now.
func (b *bench) accounted() {
	b.t.Helper()
	b.until("what soaks in", func() bool { return b.figures.site == b.doc.Site() && b.soaking.current() })
}

// ranged waits for the ranges too. They take some seconds.
func (b *bench) ranged() {
	b.t.Helper()
	for range 600 {
		b.pump()
		if b.soaking.spread.current() {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Fatal("the ranges do not come")
}

func (b *bench) soakRow(label string) *soakRow {
	b.t.Helper()
	for _, p := range b.ledger.parts {
		if panel, ok := p.(*soakPanel); ok {
			for _, r := range append(panel.rows, panel.recharge.row) {
				if strings.TrimSpace(r.figure.label) == label {
					return r
				}
			}
		}
	}
	b.t.Fatalf("the ledger has no row %q", label)
	return nil
}

func TestTheSoakStepTellsTheAccountBesideAsItIs(t *testing.T) {
	b := newBench(t)
	b.soaked(demo.Site())
	b.ranged()
	s := b.doc.Site()
	measured, err := compare.Measure(t.Context(), s, b.board.Scheme, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	setup, err := soakin.NewSetup(t.Context(), s, &measured, nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := soakin.Of(t.Context(), s, setup)
	if err != nil {
		t.Fatal(err)
	}
	was := b.soaking.asItIs
	for label, want := range map[string][2]string{
		"Soaked in a mean year": {metric.volume(a.Mean.Soaked), metric.volume(was.Mean.Soaked)},
		"Recharge potential":    {metric.volume(a.Mean.Recharge), metric.volume(was.Mean.Recharge)},
		"Draw from the well":    {metric.volume(a.Mean.Draw), metric.volume(was.Mean.Draw)},
		"Share put back":        {share(a.Mean.Share()), share(was.Mean.Share())},
		"in the driest year":    {share(a.Dry.Share()), share(was.Dry.Share())},
		"in the wettest year":   {share(a.Wet.Share()), share(was.Wet.Share())},
		"Highest water":         {metric.height(a.Storm.Likely.Pools[0].Peak), dash},
		"Hours to empty":        {with(rounded(a.Storm.Empty[0].Likely), "h"), dash},
		"Cost":                  {with(rounded(a.Cost.Total), "credits"), dash},
	} {
		if r := b.soakRow(label); r.now.Text != want[0] || r.was.Text != want[1] || want[0] == dash {
			t.Errorf("%s is %q and %q, want %q", label, r.now.Text, r.was.Text, want)
		}
	}
	r := b.soakRow("Recharge potential")
	if !strings.Contains(r.span.Text, "–") || !strings.Contains(r.differs.Text, "×") {
		t.Errorf("the recharge potential has the range %q and the difference %q", r.span.Text, r.differs.Text)
	}
	seen := strings.Join(strings.Fields(texts(b.ledger.object)), " ")
	for _, want := range []string{"Measure that next", "nobody can measure that", "2012, rain 572", "promises nothing of a well's yield", "The year's water"} {
		if !strings.Contains(seen, want) {
			t.Errorf("the ledger does not say %q:\n%s", want, seen)
		}
	}
	nexts := causeNexts()
	for _, c := range b.soaking.spread.value.scheme.RechargeCauses.Causes {
		if next := nexts[c.Name]; (next == "") != (c.Name == soakin.WeatherCause) {
			t.Errorf("of the cause %q it says %q", c.Name, next)
		}
	}
}

func TestWhatSoaksInFollowsTheSoilAndTheBed(t *testing.T) {
	b := newBench(t)
	b.soaked(demo.Site())
	recharge := func() float64 { return b.soaking.scheme.Mean.Recharge }
	before := recharge()
	b.complain(b.setSetting(func(s *plan.Setting) { s.Soil = "clay loam" }))
	b.accounted()
	clay := recharge()
	if clay >= before/1.5 || b.soaking.asItIs.Mean.Recharge >= before {
		t.Errorf("in clay loam %v m³ are put back, in loam %v", clay, before)
	}
	b.doc.Undo()
	b.accounted()
	if now := recharge(); now != before {
		t.Errorf("once undone %v m³ are put back, %v before", now, before)
	}
	asItIs := b.soaking.asItIs
	channel := b.doc.Site().Plan.Of(plan.Channel, b.board.Scheme)[0]
	b.complain(b.doc.Do(&site.Replace{After: channel.With("bed_width", plan.Value{Number: channel.Num("bed_width") + 0.5})}))
	b.accounted()
	if now := recharge(); now <= before {
		t.Errorf("with a wider bed %v m³ are put back, %v before", now, before)
	}
	if b.soaking.asItIs != asItIs {
		t.Error("the site as it is is worked out again for what is drawn in a scheme")
	}
}

// The comparison may hand over the newest account while an older one is still worked out.
func TestALateAccountDoesNotTakeThePlaceOfTheNewest(t *testing.T) {
	b := newBench(t)
	b.soaked(demo.Site())
	late := b.soaking.soaks
	b.complain(b.setSetting(func(s *plan.Setting) { s.Soil = "clay loam" }))
	b.accounted()
	b.soaking.take(late, nil)
	if !b.soaking.current() || b.soaking.scheme == late.scheme {
		t.Error("the account of the soil before is shown")
	}
}

func TestNothingSoaksInWhileAThingIsDraggedInAnotherStep(t *testing.T) {
	b := newBench(t)
	b.soaked(demo.Site())
	b.goTo(stepShape)
	b.settle()
	before := b.soaking.site
	b.pane.hand.dragging = true
	channel := b.doc.Site().Plan.Of(plan.Channel, b.board.Scheme)[0]
	b.complain(b.doc.Do(&site.Replace{After: channel.With("bed_width", plan.Value{Number: 1.5})}))
	b.settle()
	b.until("a wait", func() bool { return b.soaking.waits })
	if b.soaking.site != before {
		t.Error("what soaks in is of what is being dragged")
	}
	b.pane.hand.dragging = false
	b.accounted()
}

func TestWhatIsNotKnownIsWithheldWithWhy(t *testing.T) {
	b := newBench(t)
	s := demo.Site()
	s.Weather = weather.Record{}
	s.Setting.Aquifer = plan.Aquifer{}
	b.soaked(s)
	for _, label := range []string{"Draw from the well", "Share put back", "in the driest year"} {
		if r := b.soakRow(label); r.now.Text != dash {
			t.Errorf("without a record %s is %q", label, r.now.Text)
		}
	}
	if r := b.soakRow("Soaked in a mean year"); r.now.Text == dash {
		t.Error("without a record nothing is told to soak in")
	}
	seen := strings.Join(strings.Fields(texts(b.ledger.object)), " ")
	for _, want := range []string{"No daily record is brought in", "How the groundwater rises is not told"} {
		if !strings.Contains(seen, want) {
			t.Errorf("the ledger does not say %q:\n%s", want, seen)
		}
	}
}

func TestTheMapShowsDaysUnderWaterAndTheAccountsCautions(t *testing.T) {
	b := newBench(t)
	b.soaked(demo.Site())
	b.until("the map", func() bool { return b.pane.scene != nil && b.pane.scene.Days.Len() > 0 })
	most := 0.0
	for _, v := range b.pane.scene.Days.V {
		if d := float64(v); !math.IsNaN(d) {
			most = max(most, d)
		}
	}
	if most < 30 || most > 366 {
		t.Errorf("the map shows %v days under water", most)
	}
	rule := "rising groundwater"
	has := func() bool {
		for _, c := range b.pane.scene.Cautions {
			if c.Rule == rule {
				return true
			}
		}
		return false
	}
	if !has() || !strings.Contains(texts(b.ledger.object), "What soaks in raises the groundwater") {
		t.Error("the map or the ledger has no caution about rising groundwater")
	}
	b.goTo(stepShape)
	b.settle()
	if !has() {
		t.Error("in another step the caution is gone")
	}
}

// A file's own account must not be shown of another site.
func TestAnotherSiteHasAnotherAccount(t *testing.T) {
	b := newBench(t)
	b.soaked(demo.Site())
	b.open()
	if b.soaking.last() && b.soaking.doc != b.doc {
		t.Error("the account is of the site before")
	}
	b.goTo(stepSoak)
	b.accounted()
}
