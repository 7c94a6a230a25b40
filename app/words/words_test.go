package words

import "testing"

func book(t *testing.T, catalogue string) *Book {
	t.Helper()
	b, err := Read([]byte(catalogue))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestASentenceIsSaidWithWhatWasFilledIn(t *testing.T) {
	b := book(t, `{
		"there is no file %s; look at the path": "no existe el archivo %s; revise la ruta",
		"open %s: %w": "abrir %s: %s",
		"%s is %g; give a number from %g to %g%s": "%[1]s es %[2]g; indique un número de %[3]g a %[4]g%[5]s",
		"%s of %s": "%[1]s de %[2]s",
		"bed width": "el ancho del fondo",
		"Channel": "Canal",
		"Channel %d": "Canal %d",
		"there is a scheme %q already; give another name": "ya hay un esquema %q; dé otro nombre",
		"100 %% of %s": "100 %% de %s",
		" and ": " y ",
		"nothing changes": "nada cambia"
	}`)
	for _, c := range []struct{ english, want string }{
		{"nothing changes", "nada cambia"},
		{"Nothing changes.", "Nada cambia."},
		{"there is no file a b.gpkg; look at the path", "no existe el archivo a b.gpkg; revise la ruta"},
		{"open x: there is no file y; look at the path", "abrir x: no existe el archivo y; revise la ruta"},
		{"bed width of Channel 7", "el ancho del fondo de Canal 7"},
		{"bed width is 9.5; give a number from 0.05 to 50 m", "el ancho del fondo es 9.5; indique un número de 0.05 a 50 m"},
		{`there is a scheme "A" already; give another name`, "ya hay un esquema «A»; dé otro nombre"},
		{`there is a scheme "Channel" already; give another name`, "ya hay un esquema «Channel»; dé otro nombre"}, // as it was typed
		{"100 % of Channel 7", "100 % de Canal 7"},
		{"Open x: there is no file y; look at the path.", "Abrir x: no existe el archivo y; revise la ruta."},
		{"Channel 7 is 1.5; give a number from 1 to 2 m.", "Canal 7 es 1.5; indique un número de 1 a 2 m."},
		{"there is no file Channel and Channel 2; look at the path", "no existe el archivo Canal y Canal 2; revise la ruta"},
		{"said nowhere in the catalogue", "said nowhere in the catalogue"},
		{"", ""},
	} {
		if got := b.Say(c.english); got != c.want {
			t.Errorf("%q is said %q, want %q", c.english, got, c.want)
		}
	}
}

func TestAListIsPartedBeforeWhatSaysHardlyAnything(t *testing.T) {
	b := book(t, `{
		"%.2f m at %s": "%.2f m en %s", "%s at %s": "%s a %s", "%[1]s to %[2]s": "%[1]s a %[2]s", "%s of %s": "%s de %s", "%s (%s)": "%s (%s)",
		"%s from %.0f to %.0f m": "%s de los %.0f a los %.0f m", "none at %s": "nada en %s", " and ": " y ",
		"Channel": "Canal", "Sill": "Umbral", "depth": "hondura", "depth of a hole": "hondura de un hoyo"
	}`)
	for english, want := range map[string]string{
		"none at Channel 1 from 0 to 12 m, 0.05 m at Channel 2 and none at Sill 3": "nada en Canal 1 de los 0 a los 12 m, 0.05 m en Canal 2 y nada en Umbral 3",
		"depth of a hole of Sill 3":     "hondura de un hoyo de Umbral 3",
		"depth of Channel 1 of Sill 3":  "hondura de Canal 1 de Umbral 3",
		"Sill 1 (Channel 2, Channel 3)": "Umbral 1 (Canal 2, Canal 3)",
		"Channel 1 at Sill 2":           "Canal 1 a Umbral 2",
	} {
		if got := b.Say(english); got != want {
			t.Errorf("%q is said %q, want %q", english, got, want)
		}
	}
}

func TestAPersonsOwnNameIsSaidAsItIs(t *testing.T) {
	b := book(t, `{"remove %s": "quitar %s", "Undo %s": "Deshacer %s", "Water": "Agua", "%s of %s": "%s de %s", "depth": "hondura"}`)
	b.Own = func(text string) bool { return text == "Water" }
	for english, want := range map[string]string{
		"Undo remove Water":  "Deshacer quitar Water",
		"depth of Water":     "hondura de Water",
		"Water":              "Agua", // the name of a step
		"Undo remove Ponder": "Deshacer quitar Ponder",
	} {
		if got := b.Say(english); got != want {
			t.Errorf("%q is said %q, want %q", english, got, want)
		}
	}
}

func TestNoBookIsEnglish(t *testing.T) {
	var b *Book
	if got := b.Say("nothing changes"); got != "nothing changes" {
		t.Errorf("it says %q", got)
	}
}

func TestADamagedCatalogueIsReported(t *testing.T) {
	if _, err := Read([]byte("{")); err == nil {
		t.Error("it was read")
	}
}
