package sheet

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"runnel/app/view"
	"runnel/geo"
)

// seasonOf is so many years of a made-up pool, with a week in which nothing is known.
func seasonOf(years int) Season {
	random := rand.New(rand.NewPCG(1, 2))
	s := Season{
		Title: "Canal serpenteante con islas: el agua día a día", First: time.Date(2011, 1, 1, 0, 0, 0, 0, time.UTC),
		Marks:    []Mark{{"Lecho 83,87 m", 83.87, Bed}, {"Cresta del aliviadero 84,20 m", 84.2, Crest}, {"Borde de la orilla 84,35 m", 84.35, Brim}},
		RainAxis: "Lluvia [mm al día]", LevelAxis: "Nivel del agua sobre el datum del levantamiento [m]", SoakAxis: "Infiltrado desde el 1 de enero [m³]",
		LevelName: "nivel del agua", RunsName: "días en que corre la zanja", SoakName: "infiltrado acumulado",
		SpreadName: "del mínimo al máximo del mes", TotalName: "de bajo a alto",
		Notes: []string{"La infiltración es un potencial y no promete el caudal de un pozo."}, Total: geo.Range{Low: 282, Likely: 900, High: 1900},
	}
	end := s.First.AddDate(years, 0, 0)
	for at := s.First; at.Before(end); at = at.AddDate(0, 0, 1) {
		wet := 0.5 + 0.5*math.Cos(2*math.Pi*float64(at.YearDay()-15)/365)
		rain := 0.0
		if random.Float64() < 0.2+0.5*wet {
			rain = random.ExpFloat64() * (2 + 5*wet)
		}
		runs := wet > 0.6
		level := 83.87 + 0.25*wet*wet
		if runs {
			level = 84.14 + 0.002*rain
		}
		if at.YearDay() > 200 && at.YearDay() < 208 {
			level = math.NaN()
		}
		s.Rain, s.Level, s.Runs = append(s.Rain, rain), append(s.Level, level), append(s.Runs, runs)
		s.Soaked = append(s.Soaked, 6*wet*wet)
	}
	return s
}

func accountOf() Account {
	a := Account{
		Title:     "La cuenta del pozo, mes a mes",
		WaterAxis: "Agua al mes [m³]", WeatherAxis: "Lluvia y evapotranspiración de referencia al mes [mm]",
		RechargeName: "recarga potencial, probable", RangeName: "de baja a alta", IrrigationName: "riego del pozo",
		HouseName: "uso doméstico", RainName: "lluvia", ReferenceName: "evapotranspiración de referencia",
		Notes: []string{"La temporada lluviosa devuelve el 64 % (de 21 a 130 %) de lo que el pozo da en los meses secos."},
	}
	for i := range 12 {
		wet := 0.5 + 0.5*math.Cos(2*math.Pi*float64(i)/12)
		v := 190 * wet * wet
		a.Recharge[i] = geo.Range{Low: 0.3 * v, Likely: v, High: 2.1 * v}
		a.Irrigation[i], a.House[i] = 160*(1-wet)*(1-wet), 11
		a.Rain[i], a.Reference[i] = 30+90*wet, 20+100*(1-wet)
	}
	return a
}

func yearsOf(n int) Years {
	y := Years{
		Title: "Año a año", WaterAxis: "Agua al año [m³]", RechargeName: "recarga potencial, probable", RangeName: "de baja a alta",
		IrrigationName: "riego del pozo", HouseName: "uso doméstico", DryName: "año seco", WetName: "año lluvioso",
	}
	for i := range n {
		v := 700 + 300*math.Sin(float64(i))
		y.Years = append(y.Years, YearFigures{2030 - i, geo.Range{Low: 0.4 * v, Likely: v, High: 1.8 * v}, 900 - 0.4*v, 132, YearKind(i % 3)})
	}
	return y
}

func rankingOf() Ranking {
	return Ranking{
		Title: "De dónde viene la dispersión de la recarga",
		Ranks: []Rank{
			{"Conductividad hidráulica saturada del suelo", "de 3,4 a 13,2 mm/h", 0.62}, {"Días que corre la zanja", "de 14 a 60 al año", 0.21},
			{"Colmatación del lecho", "de 0,3 a 0,9", 0.08}, {"Superficie de contacto", "± 5 %", 0.002},
		},
		Rest:  Rank{"Lo demás, y lo que actúa en conjunto", "", 0.088},
		Notes: []string{"Lo primero es lo que conviene medir a continuación."},
	}
}

func stormOf() Storm {
	s := Storm{
		Title: "Tormenta de diseño: 50 mm en 24 h", Step: 0.1,
		Marks:    []Mark{{"Lecho 83,87 m", 83.87, Bed}, {"Cresta 84,20 m", 84.2, Crest}, {"Borde 84,35 m", 84.35, Brim}},
		TimeAxis: "Tiempo desde el comienzo [h]", RainAxis: "Lluvia [mm/h]", FlowAxis: "Caudal [L/s]", LevelAxis: "Nivel [m]",
		InflowName: "entra", OutflowName: "sale", LevelName: "nivel del agua",
	}
	for i := range 480 {
		t := float64(i) * 0.1
		rain := 0.0
		if t < 24 {
			rain = 1 + 24*math.Exp(-math.Pow((t-12)/0.7, 2))
		}
		in := 20 * math.Exp(-math.Pow((t-12.6)/1.4, 2))
		out := 12 * math.Exp(-math.Pow((t-14)/2, 2))
		s.Rain, s.Inflow, s.Outflow = append(s.Rain, rain), append(s.Inflow, in), append(s.Outflow, out)
		s.Level = append(s.Level, 83.87+0.37*math.Exp(-math.Pow((t-14)/9, 2)))
	}
	return s
}

func moundOf() Mound {
	m := Mound{
		Title: "Cuánto sube el nivel freático", First: time.Date(2014, 11, 1, 0, 0, 0, 0, time.UTC), Up: "Subida [m]", LimitName: "hasta dónde puede subir (▲ queda más arriba)",
		Places: []Place{{"Bajo el canal", nil, math.NaN()}, {"Pozo: 0,20 m como máximo", nil, 0.2}, {"Sótano de la casa norte: 0,60 m", nil, 0.6}, {"Campo séptico: 3,00 m", nil, 3}},
	}
	for i := range 120 {
		m.At = append(m.At, float64(3*i))
		for k := range m.Places {
			m.Places[k].Rise = append(m.Places[k].Rise, 0.5/float64(k+1)*math.Exp(-math.Pow((float64(3*i)-120)/60/(1+0.3*float64(k)), 2)))
		}
	}
	return m
}

func besideOf(n int) Beside {
	names := []string{"Tal como está", "Canal serpenteante con islas", "Zanja recta de infiltración", "D", "E"}
	b := Beside{Title: "Los esquemas, uno al lado de otro", Schemes: names[:n], Notes: []string{"Igual tormenta, igual temporada e igual suelo para todos."}}
	for i, axis := range []string{"Infiltración en una temporada lluviosa usual [m³]", "Parte de lo extraído que se devuelve [%]", "Coste por m³ infiltrado en 20 años [€]"} {
		f := Figure{Axis: axis}
		for k := range n {
			v := float64(100*(k+1)) / math.Pow(10, float64(i))
			r := geo.Range{Low: 0.3 * v, Likely: v, High: 2.1 * v}
			words := fmt.Sprintf("%.3g (%.3g–%.3g)", r.Likely, r.Low, r.High)
			if i == 2 && k == 0 {
				r, words = geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}, "no se conoce"
			}
			f.Values, f.Words = append(f.Values, r), append(f.Words, words)
		}
		b.Figures = append(b.Figures, f)
	}
	return b
}

type drawer interface {
	Draw(w, h int, l Look) *image.RGBA
}

// TestWaterChartsKeepWithinTheirPaper also writes every chart where LOOK names a folder.
func TestWaterChartsKeepWithinTheirPaper(t *testing.T) {
	look := LookOf(view.Light(), 1)
	all := map[string]struct {
		drawer
		high float64
	}{
		"season": {seasonOf(10).Of(2013), 400}, "seasons": {seasonOf(10), 400}, "account": {accountOf(), 340},
		"years": {yearsOf(10), 260}, "manyyears": {yearsOf(31), 260}, "ranking": {rankingOf(), 300},
		"storm": {stormOf(), 380}, "mound": {moundOf(), 260}, "beside": {besideOf(3), 0}, "besidefive": {besideOf(5), 0},
	}
	for name, c := range all {
		for mood, p := range map[string]view.Palette{"light": view.Light(), "dark": view.Dark()} {
			for _, wide := range []float64{360, 900} {
				for _, density := range []float64{1, 2} {
					high := c.high
					if b, ok := c.drawer.(Beside); ok {
						high = b.High(wide, look)
					}
					drawn := c.Draw(int(wide*density), int(high*density), LookOf(p, density))
					if density == 1 {
						keep(t, fmt.Sprintf("%s-%s-%.0f.png", name, mood, wide), drawn)
					}
					if plain(drawn) {
						t.Errorf("%s, %s, %g: blank", name, mood, wide)
					}
					if at, ok := clean(drawn, p.Paper); !ok {
						t.Errorf("%s, %s, %g: something is cut off at %v", name, mood, wide, at)
					}
				}
			}
		}
	}
}

// clean reports whether the outermost pixels are paper.
func clean(m *image.RGBA, paper color.NRGBA) (at image.Point, ok bool) {
	b := m.Rect
	for y := range b.Dy() {
		for x := range b.Dx() {
			if (x == 0 || y == 0 || x == b.Dx()-1 || y == b.Dy()-1) && m.RGBAAt(x, y) != color.RGBAModel.Convert(paper) {
				return image.Pt(x, y), false
			}
		}
	}
	return at, true
}

func TestChartsOfNoRoomOrNoFigureAreDrawn(t *testing.T) {
	look := LookOf(view.Light(), 1)
	for _, c := range []drawer{seasonOf(1), seasonOf(3), accountOf(), yearsOf(3), rankingOf(), stormOf(), moundOf(), besideOf(3)} {
		for _, size := range [][2]int{{0, 0}, {1, 1}, {30, 200}, {60, 60}, {360, 80}, {2000, 40}} {
			c.Draw(size[0], size[1], look)
		}
	}
	why := "Todavía no se conoce: falta la serie del clima."
	for i, c := range []drawer{Season{None: why}, Years{None: why}, Ranking{None: why}, Storm{None: why}, Mound{None: why}, Beside{None: why}} {
		if plain(c.Draw(300, 120, look)) {
			t.Errorf("chart %d of nothing says nothing", i)
		}
	}
	unknown := Account{}
	for i := range 12 {
		nan := math.NaN()
		unknown.Recharge[i], unknown.Irrigation[i], unknown.Rain[i] = geo.Range{Low: nan, Likely: nan, High: nan}, nan, nan
	}
	if plain(unknown.Draw(300, 200, look)) {
		t.Error("an account without a known figure has no axes")
	}
}

func TestTheLinesOfAKeyLieApartAndInside(t *testing.T) {
	look := LookOf(view.Light(), 1)
	for _, wide := range []vg.Length{120, 240, 348, 888} {
		c := plotdraw.Canvas{Rectangle: vg.Rectangle{Max: vg.Point{X: wide, Y: 300}}}
		spots, high := look.spots(c, seasonOf(2).key(look))
		for i, a := range spots {
			if a.Min.X < 0 || a.Max.X > wide+0.5 || a.Min.Y < 300-high {
				t.Errorf("on %v: %q lies at %v", wide, a.name, a.Rectangle)
			}
			for _, b := range spots[:i] {
				if a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y-0.01 && b.Min.Y < a.Max.Y-0.01 {
					t.Errorf("on %v: %q and %q overlap", wide, a.name, b.name)
				}
			}
		}
	}
}

func TestASeasonIsCutToAYearAndTold(t *testing.T) {
	s := seasonOf(10)
	one := s.Of(2012) // a leap year
	if len(one.Rain) != 366 || len(one.Level) != 366 || !one.First.Equal(time.Date(2012, 1, 1, 0, 0, 0, 0, time.UTC)) || one.ByMonth() || !s.ByMonth() {
		t.Errorf("2012 has %d days from %v", len(one.Rain), one.First)
	}
	if none := s.Of(1999); len(none.Rain) != 0 {
		t.Errorf("1999 has %d days", len(none.Rain))
	}
	d := dates{first: s.First, days: len(s.Rain)}
	months := d.months()
	if len(months) != 120 || months[1] != [2]int{31, 59} || months[119][1] != len(s.Rain) {
		t.Errorf("%d months, the second %v", len(months), months[1])
	}
	total, monthly := 0.0, 0.0
	for _, v := range s.Rain {
		total += v
	}
	for _, v := range sums(s.Rain, months) {
		monthly += v
	}
	if math.Abs(total-monthly) > 1e-9*total {
		t.Errorf("the months hold %g mm of %g", monthly, total)
	}
	// What has soaked in begins anew each year, and ends at the year's sum.
	want := 0.0
	for _, v := range one.Soaked {
		want += v
	}
	if c := one.soaked(dates{first: one.First, days: 366}); math.Abs(c.y[len(c.y)-1]-want) > 1e-9*want || c.x[len(c.x)-1] != 366 {
		t.Errorf("at the end %g m³ of %g", c.y[len(c.y)-1], want)
	}
	if _, low, mean, high := spread([]float64{3, math.NaN(), 1}, [][2]int{{0, 3}, {1, 2}}); low[0] != 1 || mean[0] != 2 || high[0] != 3 || !math.IsNaN(mean[1]) {
		t.Errorf("the spread is %v %v %v", low, mean, high)
	}
}

func TestALimitFarAboveDoesNotFlattenTheMound(t *testing.T) {
	s := moundOf().span()
	if s.low != 0 || s.high < 0.6 || s.high > 1 {
		t.Errorf("the axis runs from %g to %g m", s.low, s.high)
	}
}
