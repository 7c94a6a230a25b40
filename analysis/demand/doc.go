// Package demand works out what a scheme draws from its wells: how much the weather
// asks of grass, how much of that each watered planting needs, what rain gives of it,
// and what a household takes beside.
//
// Reference is the reference evapotranspiration [mm/day] of [Allen1998], the water that
// short, well watered grass gives to the air: Penman–Monteith where humidity, wind or
// sun was measured, with that book's stand-ins for what was not, and Hargreaves where
// only temperature was. What a crop needs is that times its coefficient, which follows
// the stages of its growth in straight lines. Nothing counts outside those stages.
//
// Of gives water by calendar month [m³]; effective rain is worked out for each month by
// itself ([USDA1993]), so water that the soil has kept from the month before is not
// counted, and the first dry month comes out rather high. Losses on the way from the
// well are not counted either.
//
// NaN is what is not known. A month of which one day lacks rain or temperature is not
// known, nor is the year that it lies in: nothing is filled in.
package demand
