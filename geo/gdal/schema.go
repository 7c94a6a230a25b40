package gdal

import (
	"github.com/lukeroth/gdal"

	"runnel/geo/plan"
)

// schemaTables are the tables of the GeoPackage schema extension and of the
// list of extensions, as 12-128r17 annexes F.9 and C.8 define them.
var schemaTables = []string{
	`CREATE TABLE IF NOT EXISTS gpkg_data_columns (
		table_name TEXT NOT NULL, column_name TEXT NOT NULL, name TEXT, title TEXT,
		description TEXT, mime_type TEXT, constraint_name TEXT,
		CONSTRAINT pk_gdc PRIMARY KEY (table_name, column_name),
		CONSTRAINT gdc_tn UNIQUE (table_name, name))`,
	`CREATE TABLE IF NOT EXISTS gpkg_extensions (
		table_name TEXT, column_name TEXT, extension_name TEXT NOT NULL,
		definition TEXT NOT NULL, scope TEXT NOT NULL,
		CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))`,
	`INSERT INTO gpkg_extensions
		SELECT 'gpkg_data_columns', NULL, 'gpkg_schema', 'http://www.geopackage.org/spec121/#extension_schema', 'read-write'
		WHERE NOT EXISTS (SELECT 1 FROM gpkg_extensions WHERE table_name = 'gpkg_data_columns' AND extension_name = 'gpkg_schema')`,
}

// describeColumns says what every column of our layers is, with the unit of
// every number, where the schema extension has a column's title and description.
func describeColumns(set gdal.Dataset) error {
	for _, sql := range schemaTables {
		if err := execute(set, sql); err != nil {
			return err
		}
	}
	for _, spec := range plan.Specs() {
		if err := describeTable(set, spec.Name, columnsOf(spec)); err != nil {
			return err
		}
	}
	return nil
}

// describeTable says what the columns of one table are.
func describeTable(set gdal.Dataset, table string, columns []column) error {
	for _, c := range columns {
		err := execute(set, "INSERT OR REPLACE INTO gpkg_data_columns (table_name, column_name, title, description) VALUES ("+
			quote(table)+", "+quote(c.name)+", "+quote(c.title)+", "+quote(c.about)+")")
		if err != nil {
			return err
		}
	}
	return nil
}
