package action

import (
	"slices"
	"strings"

	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// addedKinds say what the features of a drawing become.
type addedKinds struct {
	// others is what those of layers that are not named become; NoKind leaves them out.
	others plan.Kind
	layers []layerKind
}

// A layerKind is a layer and what its features become.
type layerKind struct {
	layer string
	kind  plan.Kind
}

// all lists the kinds, each once.
func (k addedKinds) all() (kinds []plan.Kind) {
	for _, l := range append(slices.Clone(k.layers), layerKind{kind: k.others}) {
		if l.kind != plan.NoKind && !slices.Contains(kinds, l.kind) {
			kinds = append(kinds, l.kind)
		}
	}
	return kinds
}

// kinds reads what the command says of them, and whether a scheme goes with that.
func (a *Add) kinds() (k addedKinds, err error) {
	if a.As != "" {
		if k.others, err = kindTyped(a.As); err != nil {
			return k, err
		}
	}
	for _, typed := range a.Layer {
		at := strings.LastIndex(typed, "=") // names of layers may have one
		if at < 1 {
			return k, mistyped("--layer is %q; give the layer's name, = and a kind, as in buildings=roof", typed)
		}
		kind, err := kindTyped(strings.TrimSpace(typed[at+1:]))
		if err != nil {
			return k, err
		}
		k.layers = append(k.layers, layerKind{strings.TrimSpace(typed[:at]), kind})
	}
	kinds := k.all()
	if len(kinds) == 0 {
		return k, mistyped("say what the features are with --as KIND, or layer by layer with --layer NAME=KIND")
	}
	designed := slices.IndexFunc(kinds, func(kind plan.Kind) bool { return plan.SpecOf(kind).InScheme })
	switch named := strings.TrimSpace(a.Scheme) != ""; {
	case designed >= 0 && !named:
		return k, mistyped("%s is part of a design; name its scheme with --scheme", one(kinds[designed]))
	case designed < 0 && a.Scheme != "":
		return k, mistyped("%s belongs to the site as it is; leave out --scheme", one(kinds[0]))
	}
	return k, nil
}

func kindTyped(typed string) (plan.Kind, error) {
	kind, ok := plan.KindNamed(typed)
	if !ok {
		var names []string
		for _, spec := range plan.Specs() {
			names = append(names, spec.Name)
		}
		return kind, mistyped("%q is not a kind of feature; give one of: %s", typed, strings.Join(names, ", "))
	}
	return kind, nil
}

// A drawnPart is what of a drawing becomes features of one kind.
type drawnPart struct {
	kind  plan.Kind
	drawn []gdal.Drawn
}

// sort sorts a drawing by what it becomes. A layer may be called by its own name, or in
// a drawing that tells kinds apart by that of the kind.
func (k addedKinds) sort(drawn []gdal.Drawn, file string) ([]drawnPart, error) {
	groups := gdal.Groups(drawn, file)
	var parts []drawnPart
	found := make([]bool, len(k.layers))
	for _, g := range groups {
		kind := k.others
		for i, l := range k.layers {
			if strings.EqualFold(l.layer, g.Name) {
				kind, found[i] = l.kind, true
			}
		}
		if kind == plan.NoKind {
			continue
		}
		i := slices.IndexFunc(parts, func(p drawnPart) bool { return p.kind == kind })
		if i < 0 {
			i = len(parts)
			parts = append(parts, drawnPart{kind: kind})
		}
		parts[i].drawn = append(parts[i].drawn, g.Drawn...)
	}
	if i := slices.Index(found, false); i >= 0 {
		var names []string
		for _, g := range groups {
			if !slices.Contains(names, g.Name) { // one for each shape may bear it
				names = append(names, g.Name)
			}
		}
		return nil, sentence("%s has no layer %q; it has: %s", file, k.layers[i].layer, strings.Join(names[:min(len(names), mostTold)], ", "))
	}
	return parts, nil
}
