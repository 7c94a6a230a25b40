package caution

// SourceOf says what guidance the usual value of a limit leans on. The name is that of
// the figure in plan.SettingFigures; it is empty for what is no limit.
func SourceOf(name string) string { return sources[name] }

const (
	ownPractice  = "Common practice, no source."
	ownersRules  = "Common practice; the owner's own rules govern."
	streetSource = "100 ft, as US EPA and state manuals ask, from memory."
)

// sources are by the names of the limits in files.
var sources = map[string]string{
	"limit_well":        setbackSource,
	"limit_building":    setbackSource,
	"limit_boundary":    setbackSource,
	"limit_septic":      setbackSource,
	"limit_depth":       shapeSource,
	"limit_side":        shapeSource,
	"limit_drawdown":    "Minnesota Stormwater Manual, drawdown time",
	"limit_mosquitoes":  "California Department of Public Health, vector control practices, 2010",
	"limit_service":     ownersRules,
	"limit_unlocated":   ownersRules,
	"limit_groundwater": "Minnesota Stormwater Manual, vertical separation",
	"limit_cell":        ownPractice,
	"limit_street":      streetSource,
	"limit_overflow":    setbackSource,
	"limit_freeboard":   "Half a foot, as guides to swales ask, from memory; raised banks want 0.30 m by NRCS practice standard 378, from memory.",
	"limit_mound":       "Common practice, no source; the rise is found by Hantush 1967.",
}
