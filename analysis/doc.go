// Package analysis holds nothing itself: its folders work out what the program
// shows. This page is their glossary, the conventions they share, and the one
// list of the works they cite.
//
// # Words
//
//	ground            the surface of record, a grid of heights
//	proposed ground   the ground with a scheme cut and filled into it
//	scheme            one design; the site as it is has nothing designed
//	channel, drain    a water course that is proposed; one that is there
//	island            ground left standing, or raised, inside a channel
//	moat              the water round an island that a channel divides round
//	run               a channel's centreline with its section and bed levels
//	reach             a run, a drain or an island's outline, with its surface
//	bed, bank, crest  the floor of a channel, its sides, an island's upper edge
//	sill, pool        a level weir across a channel, the water it holds back
//	spillway          the place where a channel's water leaves safely
//	tie-in            the end of a channel that draws on a drain
//	chainage, station distance along a line; a place given by it
//	contact area      soil under water, along its slope and not in plan [m²]
//	wetted perimeter  the length of soil under water in a cross-section [m]
//	wet bank          the length of the water's edge [m]
//	hollow            a place that holds water before it spills
//	outlet            a cell from which water leaves the ground
//	source            a roof or a piece of paving, from which water comes
//	weight            the runoff of a cell for each metre of rain [m/m]
//	link              a culvert or drain inlet, by which water leaves a cell
//	fate              where a source's water ends
//	catchment         the ground whose water ends in a channel or a pool
//	excess            what runs off of the rain of a storm [mm]
//	accumulation      what drains through a cell, itself included
//	recharge          the potential of contact area to take in water [m³]
//
// # Conventions
//
// Lengths, levels and places are metres in the site's own frame, east before
// north; areas m², volumes m³. Slopes are rise over run [m/m], but side slopes
// of channels horizontal over vertical [H:V], as diggers give them. Directions of
// flow are 0 to 7 clockwise from north. NaN is what is not known: a cell of no
// data, a level that was not set. It is never taken for a height.
//
// Every function is pure: it changes none of its arguments and answers the same
// for the same, whatever runs beside it. What may take long takes a context and
// gives up soon after it ends. Errors are sentences for the person who drew or
// opened what is wrong; a panic is a mistake in the program.
//
// Grids are worked by whole rows where that is quicker, and a quick way has a
// slow, plain one in its tests.
//
// # References
//
// Where a figure is quoted from memory of a work, it says so where it stands.
//
//   - Allen1998: Allen, Pereira, Raes and Smith, Crop evapotranspiration: guidelines for
//     computing crop water requirements, FAO irrigation and drainage paper 56, 1998
//     (equations and most figures from copies of the text, the rest from memory)
//   - AmanatidesWoo1987: Amanatides and Woo, A fast voxel traversal algorithm for
//     ray tracing, Eurographics 1987, doi:10.2312/egtp.19871000
//   - ASTMD3385: ASTM D3385, Standard test method for infiltration rate of soils in
//     field using double-ring infiltrometer (cited from memory)
//   - Barlow1972: Barlow, Bartholomew, Bremner and Brunk, Statistical inference
//     under order restrictions, Wiley, 1972 (cited from memory)
//   - Barnes2014: Barnes, Lehman and Mulla, Priority-flood: an optimal
//     depression-filling and watershed-labeling algorithm for digital elevation
//     models, Computers & Geosciences 62, 2014, doi:10.1016/j.cageo.2013.04.024
//   - Barnes2014flats: Barnes, Lehman and Mulla, An efficient assignment of
//     drainage direction over flat surfaces in raster digital elevation models,
//     Computers & Geosciences 62, 2014, doi:10.1016/j.cageo.2013.01.009
//   - Barnes2020: Barnes, Callaghan and Wickert, Computing water flow through
//     complex landscapes, part 2: finding hierarchies in depressions and
//     morphological segmentations, Earth Surface Dynamics 8, 2020,
//     doi:10.5194/esurf-8-431-2020
//   - Barnes2021: Barnes, Callaghan and Wickert, Computing water flow through
//     complex landscapes, part 3: fill-spill-merge, flow routing in depression
//     hierarchies, Earth Surface Dynamics 9, 2021, doi:10.5194/esurf-9-105-2021
//   - Barry1993: Barry, Parlange, Sander and Sivapalan, A class of exact solutions for
//     Richards' equation, Journal of Hydrology 142, 1993, on the Lambert function (cited
//     from memory)
//   - BeatonTukey1974: Beaton and Tukey, The fitting of power series, meaning
//     polynomials, illustrated on band-spectroscopic data, Technometrics 16(2),
//     1974 (cited from memory)
//   - Bentley1975: Bentley, Multidimensional binary search trees used for
//     associative searching, Communications of the ACM 18(9), 1975,
//     doi:10.1145/361002.361007 (cited from memory)
//   - Briggs1974: Briggs, Machine contouring using minimum curvature, Geophysics
//     39, 1974, doi:10.1190/1.1440410
//   - Borgefors1986: Borgefors, Distance transformations in digital images, Computer
//     Vision, Graphics, and Image Processing 34, 1986 (cited from memory)
//   - Brandt1977: Brandt, Multi-level adaptive solutions to boundary-value problems,
//     Mathematics of Computation 31, 1977 (cited from memory)
//   - Briggs1974: Briggs, Machine contouring using minimum curvature, Geophysics
//     39(1), 1974 (cited from memory)
//   - Brouwer1989: Brouwer, Prins and Heibloem, Irrigation scheduling, FAO irrigation water
//     management training manual 4, 1989 (its table 8 from copies of the text)
//   - CarselParrish1988: Carsel and Parrish, Developing joint probability
//     distributions of soil water retention characteristics, Water Resources
//     Research 24(5), 1988, doi:10.1029/WR024i005p00755
//   - Chandrupatla1997: Chandrupatla, A new hybrid quadratic/bisection algorithm for
//     finding the zero of a nonlinear function without using derivatives, Advances in
//     Engineering Software 28(3), 1997 (cited from memory)
//   - Chow1959: Chow, Open-channel hydraulics, McGraw-Hill, 1959
//   - ChowMaidmentMays1988: Chow, Maidment and Mays, Applied hydrology, McGraw-Hill,
//     1988 (cited from memory)
//   - Cordonnier2019: Cordonnier, Bovy and Braun, A versatile, linear complexity
//     algorithm for flow routing in topographies with depressions, Earth Surface
//     Dynamics 7, 2019, doi:10.5194/esurf-7-549-2019
//   - CressieHawkins1980: Cressie and Hawkins, Robust estimation of the variogram,
//     Mathematical Geology 12(2), 1980 (cited from memory)
//   - DahlquistBjorck1974: Dahlquist and Björck, Numerical methods, Prentice-Hall,
//     1974 (cited from memory)
//   - Dijkstra1959: Dijkstra, A note on two problems in connexion with graphs,
//     Numerische Mathematik 1, 1959 (cited from memory)
//   - Cross1936: Cross, Analysis of flow in networks of conduits or conductors,
//     University of Illinois Bulletin 286, 1936 (cited from memory)
//   - FelzenszwalbHuttenlocher2012: Felzenszwalb and Huttenlocher, Distance
//     transforms of sampled functions, Theory of Computing 8, 2012 (cited from
//     memory)
//   - FGDC1998: FGDC, Geospatial positioning accuracy standards, part 3: national
//     standard for spatial data accuracy, FGDC-STD-007.3-1998, 1998, from memory
//   - Fisher1925: Fisher, Statistical methods for research workers, Oliver and Boyd,
//     1925, on the correlation ratio (cited from memory)
//   - FM5434: US Army, Earthmoving operations, field manual FM 5-434, 2000 (cited
//     from memory)
//   - FHWA1988: Chen and Cotton, Design of roadside channels with flexible linings,
//     FHWA Hydraulic Engineering Circular 15, 1988 (cited from memory)
//   - FortierScobey1926: Fortier and Scobey, Permissible canal velocities,
//     Transactions of the ASCE 89, 1926 (cited from memory, by way of Chow1959)
//   - GarbrechtMartz1997: Garbrecht and Martz, The assignment of drainage
//     direction over flat surfaces in raster digital elevation models, Journal of
//     Hydrology 193, 1997, doi:10.1016/S0022-1694(96)03138-1
//   - GhilaniWolf2012: Ghilani and Wolf, Elementary surveying, 13th edition, Pearson,
//     2012, on volumes (cited from memory)
//   - GreenAmpt1911: Green and Ampt, Studies on soil physics, 1: the flow of air and
//     water through soils, Journal of Agricultural Science 4, 1911 (cited from memory)
//   - Hantush1967: Hantush, Growth and decay of groundwater-mounds in response to
//     uniform percolation, Water Resources Research 3(1), 1967 (cited from memory)
//   - Higdon2002: Higdon, Space and space-time modeling using process convolutions,
//     in Quantitative Methods for Current Environmental Issues, Springer, 2002
//     (cited from memory)
//   - HohleHohle2009: Höhle and Höhle, Accuracy assessment of digital elevation
//     models by means of robust statistical methods, ISPRS Journal of
//     Photogrammetry and Remote Sensing 64(4), 2009 (cited from memory)
//   - Horn1981: Horn, Hill shading and the reflectance map, Proceedings of the
//     IEEE 69(1), 1981, doi:10.1109/PROC.1981.11918
//   - Huff1990: Huff, Time distributions of heavy rainstorms in Illinois, Illinois
//     State Water Survey Circular 173, 1990 (cited from memory)
//   - HunterGoodchild1997: Hunter and Goodchild, Modeling the uncertainty of slope
//     and aspect estimates derived from spatial databases, Geographical Analysis
//     29(1), 1997 (cited from memory)
//   - ILRI16: Ritzema, Drainage principles and applications, ILRI Publication 16, 2nd
//     edition, 1994, on the inverse auger-hole method (cited from memory)
//   - Kirkpatrick1983: Kirkpatrick, Gelatt and Vecchi, Optimization by simulated
//     annealing, Science 220, 1983 (cited from memory)
//   - Kirpich1940: Kirpich, Time of concentration of small agricultural watersheds,
//     Civil Engineering 10(6), 1940 (cited from memory)
//   - MeinLarson1973: Mein and Larson, Modeling infiltration during a steady rain,
//     Water Resources Research 9(2), 1973, doi:10.1029/WR009i002p00384 (cited from memory)
//   - NEH630: Natural Resources Conservation Service, National engineering handbook,
//     part 630, hydrology; chapter 7, hydrologic soil groups, 2009; chapters 10, 15 and
//     16, runoff from storm rainfall, time of concentration and hydrographs (cited from
//     memory)
//   - NMAS1947: United States Bureau of the Budget, National map accuracy
//     standards, 1947 (cited from memory)
//   - Hutchinson1989: Hutchinson, A new procedure for gridding elevation and stream
//     line data with automatic removal of spurious pits, Journal of Hydrology 106,
//     1989 (cited from memory)
//   - OCallaghan1984: O'Callaghan and Mark, The extraction of drainage networks
//     from digital elevation data, Computer Vision, Graphics, and Image Processing
//     28, 1984, doi:10.1016/S0734-189X(84)80011-0
//   - OksanenSarjakoski2005: Oksanen and Sarjakoski, Error propagation of DEM-based
//     surface derivatives, Computers & Geosciences 31(8), 2005 (cited from memory)
//   - Rawls1982: Rawls, Brakensiek and Saxton, Estimation of soil water
//     properties, Transactions of the ASAE 25(5), 1982, doi:10.13031/2013.33720
//   - Rawls1983: Rawls, Brakensiek and Miller, Green-Ampt infiltration parameters
//     from soils data, Journal of Hydraulic Engineering 109(1), 1983,
//     doi:10.1061/(ASCE)0733-9429(1983)109:1(62)
//   - ReynoldsElrick1990: Reynolds and Elrick, Ponded infiltration from a single ring, 1:
//     analysis of steady flow, Soil Science Society of America Journal 54, 1990 (cited
//     from memory)
//   - SCS1954: Soil Conservation Service, Handbook of channel design for soil and
//     water conservation, SCS-TP-61, 1954
//   - SmithWessel1990: Smith and Wessel, Gridding with continuous curvature
//     splines in tension, Geophysics 55, 1990, doi:10.1190/1.1442837
//   - Spearman1904: Spearman, The proof and measurement of association between two
//     things, American Journal of Psychology 15, 1904 (cited from memory)
//   - Steele2014: Steele, Lea and Flood, Fast splittable pseudorandom number
//     generators, OOPSLA 2014 (cited from memory)
//   - TR55: Soil Conservation Service, Urban hydrology for small watersheds, Technical
//     Release 55, 2nd edition, 1986 (cited from memory where it is not said otherwise)
//   - USBR2001: Bureau of Reclamation, Water measurement manual, 3rd ed., 2001 (cited
//     from memory)
//   - USDA1970: Soil Conservation Service, Irrigation water requirements, technical release
//     21, 1970 (cited from memory, by way of USDA1993)
//   - USDA1993: Soil Conservation Service, National engineering handbook, part 623,
//     chapter 2, irrigation water requirements, 1993 (equations from copies of the text)
//   - WarrickNielsen1980: Warrick and Nielsen, Spatial variability of soil physical
//     properties in the field, in Hillel (editor), Applications of soil physics, Academic
//     Press, 1980 (cited from memory)
//   - YenChow1980: Yen and Chow, Design hyetographs for small drainage structures,
//     Journal of the Hydraulics Division 106(HY6), 1980 (cited from memory)
//   - Zhou2019: Zhou, Wei and Fu, A fast and simple algorithm for calculating flow
//     accumulation matrices from raster digital elevation, Frontiers of Earth
//     Science 13, 2019, doi:10.1007/s11707-018-0725-9
package analysis
