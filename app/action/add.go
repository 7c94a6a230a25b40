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
	File   string   `arg:"" help:"A drawing: GeoJSON, GeoPackage, Shapefile, DXF, KML or CSV."`
	As     string   `required:"" placeholder:"KIND" help:"What its features are, such as roof, drain or channel."`
	Scheme string   `placeholder:"NAME" help:"The scheme they belong to; it is made if there is none of that name."`
	Set    []string `sep:"none" placeholder:"FIELD=VALUE" help:"A field to set on all of them; may be given again."`
}

// Run adds the features.
func (a *Add) Run(ctx context.Context, s Streams) error {
	kind, err := a.kind()
	if err != nil {
		return err
	}
	values, err := a.values(kind)
	if err != nil {
		return err
	}
	site, err := s.In.Site(ctx, a.Site)
	if err != nil {
		return err
	}
	drawn, notes, err := s.In.Drawn(ctx, a.File, site.CRS)
	if err != nil {
		return err
	}
	s.tell(a.File, notes)
	features, faults := gdal.Features(drawn, kind, a.scheme(&site.Plan, kind))
	before := len(site.Plan.Features)
	faults = append(faults, place(&site.Plan, features, values)...)
	var sentences []string
	for _, fault := range faults {
		sentences = append(sentences, filepath.Base(a.File)+": "+fault.Error())
	}
	tellAll(s, sentences)
	added := site.Plan.Features[before:]
	if len(added) == 0 {
		return sentence("%s holds nothing that can be %s; the site is as it was", filepath.Base(a.File), one(kind))
	}
	if err := gdal.SaveSite(a.Site, site); err != nil {
		return err
	}
	tellAdded(s, site, added)
	return nil
}

// one names a feature of a kind with its article.
func one(kind plan.Kind) string {
	label := strings.ToLower(kind.String())
	if strings.ContainsRune("aeiou", rune(label[0])) {
		return "an " + label
	}
	return "a " + label
}

// place puts features into a plan with values set, and returns what is wrong
// with those that it leaves out.
func place(p *plan.Plan, features []plan.Feature, values map[string]plan.Value) (faults []error) {
	for _, f := range features {
		for name, value := range values {
			f = f.With(name, value)
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

func (a *Add) kind() (plan.Kind, error) {
	kind, ok := plan.KindNamed(a.As)
	if !ok {
		var names []string
		for _, spec := range plan.Specs() {
			names = append(names, spec.Name)
		}
		return kind, mistyped("%q is not a kind of feature; give one of: %s", a.As, strings.Join(names, ", "))
	}
	switch inScheme := plan.SpecOf(kind).InScheme; {
	case inScheme && strings.TrimSpace(a.Scheme) == "":
		return kind, mistyped("%s is part of a design; name its scheme with --scheme", one(kind))
	case !inScheme && a.Scheme != "":
		return kind, mistyped("%s belongs to the site as it is; leave out --scheme", one(kind))
	}
	return kind, nil
}

// values reads the fields that are to be set.
func (a *Add) values(kind plan.Kind) (map[string]plan.Value, error) {
	values := map[string]plan.Value{}
	fields := plan.SpecOf(kind).Fields
	for _, set := range a.Set {
		name, typed, ok := strings.Cut(set, "=")
		if !ok {
			return nil, mistyped("--set is %q; give field=value", set)
		}
		i := slices.IndexFunc(fields, func(f plan.Field) bool { return f.Name == strings.TrimSpace(name) })
		if i < 0 {
			return nil, mistyped("%s has no field %q; %s", one(kind), name, fieldNames(fields))
		}
		value, given, err := fields[i].Parse(typed)
		if err != nil {
			return nil, mistyped("%v", err)
		}
		if given {
			values[fields[i].Name] = value
		}
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
