package action

import (
	"context"
	"path/filepath"
	"slices"
	"strings"

	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// Add adds the features of a drawing to a site.
type Add struct {
	Site   string   `arg:"" help:"The site (.gpkg)."`
	File   string   `arg:"" help:"A drawing: GeoJSON, GeoPackage, Shapefile, DXF, KML, GPX, FlatGeobuf or CSV."`
	As     string   `placeholder:"KIND" help:"What its features are, such as roof, drain or channel; with --layer, those of the other layers."`
	Layer  []string `sep:"none" placeholder:"NAME=KIND" help:"What the features of one layer are; may be given again. Other layers are left out."`
	CRS    string   `name:"crs" placeholder:"EPSG:CODE" help:"The reference system of the drawing, where its file does not say or is wrong; site for the site's own."`
	Scheme string   `placeholder:"NAME" help:"The scheme they belong to; it is made if there is none of that name."`
	Set    []string `sep:"none" placeholder:"FIELD=VALUE" help:"A field to set on all of them; may be given again."`
}

// Run adds the features.
func (a *Add) Run(ctx context.Context, s Streams) error {
	kinds, err := a.kinds()
	if err != nil {
		return err
	}
	values, err := a.values(kinds)
	if err != nil {
		return err
	}
	site, err := s.In.Site(ctx, a.Site)
	if err != nil {
		return err
	}
	drawn, notes, err := s.In.Drawn(ctx, a.File, gdal.DrawnOptions{To: site.CRS, System: a.CRS})
	if err != nil {
		return err
	}
	s.tell(a.File, notes)
	parts, err := kinds.sort(drawn, filepath.Base(a.File))
	if err != nil {
		return err
	}
	before := len(site.Plan.Features)
	tellAll(s, a.place(&site.Plan, parts, values))
	added := site.Plan.Features[before:]
	if len(added) == 0 {
		return sentence("%s holds nothing that can be %s; the site is as it was", filepath.Base(a.File), one(parts[0].kind))
	}
	if err := gdal.SaveSite(a.Site, site); err != nil {
		return err
	}
	for _, part := range parts {
		tellAdded(s, site, only(added, part.kind))
	}
	return nil
}

// place puts the shapes into a plan as features of their kinds, and says which it
// cannot.
func (a *Add) place(p *plan.Plan, parts []drawnPart, values map[string]string) (faults []string) {
	for _, part := range parts {
		features, wrong := gdal.Features(part.drawn, part.kind, a.scheme(p, part.kind))
		for _, fault := range append(wrong, place(p, features, values)...) {
			faults = append(faults, filepath.Base(a.File)+": "+fault.Error())
		}
	}
	return faults
}

// only returns the features of one kind.
func only(features []plan.Feature, kind plan.Kind) []plan.Feature {
	return slices.DeleteFunc(slices.Clone(features), func(f plan.Feature) bool { return f.Kind != kind })
}

// one names a feature of a kind with its article.
func one(kind plan.Kind) string {
	label := strings.ToLower(kind.String())
	if strings.ContainsRune("aeiou", rune(label[0])) {
		return "an " + label
	}
	return "a " + label
}

// place puts features into a plan with those of values set that their kind has, and
// returns what is wrong with those that it leaves out.
func place(p *plan.Plan, features []plan.Feature, values map[string]string) (faults []error) {
	for _, f := range features {
		for _, field := range plan.SpecOf(f.Kind).Fields {
			typed, asked := values[field.Name]
			if v, given, err := field.Parse(typed); asked && given && err == nil {
				f = f.With(field.Name, v)
			}
		}
		if err := plan.Check(f); err != nil {
			faults = append(faults, sentence("%w; it is left out", err))
			continue
		}
		f.ID = plan.ID(p.NextID())
		p.Features = append(p.Features, f)
	}
	return faults
}

// values reads the fields that are to be set; each must be one of one kind at least,
// and suit all that have it.
func (a *Add) values(kinds addedKinds) (map[string]string, error) {
	values := map[string]string{}
	for _, set := range a.Set {
		name, typed, ok := strings.Cut(set, "=")
		name = strings.TrimSpace(name)
		if !ok {
			return nil, mistyped("--set is %q; give field=value", set)
		}
		known := false
		for _, kind := range kinds.all() {
			for _, field := range plan.SpecOf(kind).Fields {
				if field.Name != name {
					continue
				}
				known = true
				if _, _, err := field.Parse(typed); err != nil {
					return nil, mistyped("%v", err)
				}
			}
		}
		if !known {
			kind := kinds.all()[0]
			return nil, mistyped("%s has no field %q; %s", one(kind), name, fieldNames(plan.SpecOf(kind).Fields))
		}
		values[name] = typed
	}
	return values, nil
}

func fieldNames(fields []plan.Field) string {
	if len(fields) == 0 {
		return "it has none"
	}
	var names []string
	for _, f := range fields {
		names = append(names, f.Name)
	}
	return "it has: " + strings.Join(names, ", ")
}

// scheme finds the scheme that features of a kind go into, and makes it where
// there is none of that name.
func (a *Add) scheme(p *plan.Plan, kind plan.Kind) plan.SchemeID {
	if !plan.SpecOf(kind).InScheme {
		return plan.AsItIs
	}
	if scheme, err := p.SchemeNamed(a.Scheme); err == nil {
		return scheme.ID
	}
	id := plan.SchemeID(p.NextID())
	p.Schemes = append(p.Schemes, plan.Scheme{ID: id, Name: strings.TrimSpace(a.Scheme)})
	return id
}
