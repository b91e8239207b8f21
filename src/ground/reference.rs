//! The ground against the world outside: every row of the reference files, whose first lines name their sources, and the
//! published projection examples of `check_values.csv` (cited by id).

use crate::angle::Bearing;
use crate::ground::plane::{GridPosition, intersection};
use crate::ground::{Ellipsoid, GridLeg, Mgrs, Place, Precision, TransverseMercator, Utm, Zone, geodesic};
use std::path::Path;

/// The rows of a reference file as numbers or texts by column name.
struct Row {
    headers: csv::StringRecord,
    values: csv::StringRecord,
}

impl Row {
    fn text(&self, column: &str) -> &str {
        let index = self.headers.iter().position(|header| header == column);
        self.values.get(index.unwrap_or_else(|| panic!("no column {column}"))).unwrap()
    }

    fn number(&self, column: &str) -> f64 {
        self.text(column).parse().unwrap()
    }

    fn place(&self, latitude: &str, longitude: &str) -> Place {
        Place::from_degrees(self.number(latitude), self.number(longitude)).unwrap()
    }
}

fn rows(file: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(file);
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let headers = reader.headers().unwrap().clone();
    reader.records().map(|values| Row { headers: headers.clone(), values: values.unwrap() }).collect()
}

#[track_caller]
fn near(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}

/// The turn between two directions in degrees, the short way.
fn turn(a: f64, b: f64) -> f64 {
    Bearing::<crate::angle::True>::from_degrees(a).turn_to(Bearing::from_degrees(b)).degrees().abs()
}

#[test]
fn all_utm_rows_agree_with_proj() {
    let rows = rows("utm_mgrs.csv");
    assert_eq!(rows.len(), 400);
    for row in rows {
        let utm = Utm::from_place(row.place("lat", "lon")).unwrap();
        let id = row.text("id");
        assert_eq!(utm.zone().to_string(), row.text("utm_zone"), "row {id}");
        assert_eq!(utm.band().to_string(), row.text("mgrs_band"), "row {id}");
        assert_eq!(&utm.hemisphere().word()[..1], row.text("hemisphere").to_lowercase(), "row {id}");
        near(id, utm.easting_m(), row.number("easting_m"), 5.1e-5);
        near(id, utm.northing_m(), row.number("northing_m"), 5.1e-5);
        // PROJ takes convergence and scale from small differences; Karney's rows below hold ours to 1e-10 and 1e-12.
        near(id, utm.convergence().angle().degrees(), row.number("convergence_deg"), 1e-8);
        near(id, utm.scale(), row.number("scale"), 1e-9);
        let back = Utm::new(utm.zone(), utm.hemisphere(), row.number("easting_m"), row.number("northing_m")).unwrap();
        assert!(geodesic::inverse(back.place(), utm.place()).distance_m < 1e-4, "row {id}");
    }
}

#[test]
fn all_mgrs_rows_agree_digit_for_digit_and_are_read_back() {
    for row in rows("utm_mgrs.csv") {
        let place = row.place("lat", "lon");
        for (column, precision) in [
            ("mgrs_5dig", Precision::M1),
            ("mgrs_4dig", Precision::M10),
            ("mgrs_3dig", Precision::M100),
            ("mgrs_2dig", Precision::Km1),
        ] {
            let expected = row.text(column);
            let mgrs = Mgrs::from_place(place, precision).unwrap();
            assert_eq!(mgrs.to_string(), expected);
            assert_eq!(Mgrs::read(expected), Ok(mgrs));
            // The corner lies south-west of the place, within the square.
            let corner = Place::read(expected).unwrap();
            assert_eq!(corner, mgrs.place());
            let corner = Utm::in_zone(corner, mgrs.zone()).unwrap();
            let leg = corner.grid_leg_to(&Utm::from_place(place).unwrap()).unwrap();
            assert!(leg.distance_m < f64::from(precision.side_m()) * 2.0_f64.sqrt(), "{expected}");
            assert!(leg.bearing.degrees() <= 90.0 + 1e-3, "{expected}");
        }
    }
}

#[test]
fn all_pairs_agree_on_true_and_grid_bearings_and_distances() {
    let rows = rows("pairs.csv");
    assert_eq!(rows.len(), 400);
    for row in rows {
        let id = row.text("id");
        let (from, to) = (row.place("lat1", "lon1"), row.place("lat2", "lon2"));
        let leg = geodesic::inverse(from, to);
        near(id, leg.distance_m, row.number("distance_m"), 5.1e-5);
        assert!(turn(leg.bearing.degrees(), row.number("true_az12_deg")) <= 5.1e-7, "row {id}");
        assert!(turn(leg.back_bearing.degrees(), row.number("true_back_az21_deg")) <= 5.1e-7, "row {id}");

        let here = Utm::from_place(from).unwrap();
        assert_eq!(here.zone().to_string(), row.text("utm_zone"));
        let there = Utm::in_zone(to, here.zone()).unwrap();
        near(id, here.easting_m(), row.number("E1"), 5.1e-5);
        near(id, here.northing_m(), row.number("N1"), 5.1e-5);
        near(id, there.easting_m(), row.number("E2"), 5.1e-5);
        near(id, there.northing_m(), row.number("N2"), 5.1e-5);
        near(id, here.convergence().angle().degrees(), row.number("convergence1_deg"), 5.1e-7);
        let grid = here.grid_leg_to(&there).unwrap();
        near(id, grid.distance_m, row.number("grid_distance_m"), 5.1e-5);
        assert!(turn(grid.bearing.degrees(), row.number("grid_bearing12_deg")) <= 5.1e-7, "row {id}");
        near(id, grid.distance_m / leg.distance_m, row.number("line_scale"), 5.1e-9);
    }
}

#[test]
fn all_of_karneys_transverse_mercator_rows_within_40_degrees_agree_to_a_micrometre() {
    let grid = TransverseMercator::new(Ellipsoid::WGS84, 0.9996, Place::from_degrees(0.0, 0.0).unwrap(), 0.0, 0.0);
    let rows: Vec<Row> =
        rows("karney_TMcoords_first258.csv").into_iter().filter(|row| row.number("lon_from_cm_deg") <= 40.0).collect();
    assert_eq!(rows.len(), 101);
    for row in rows {
        let place = row.place("lat_deg", "lon_from_cm_deg");
        let id = place.to_string();
        let there = grid.forward(place).unwrap();
        near(&id, there.easting_m, row.number("easting_m"), 1e-6);
        near(&id, there.northing_m, row.number("northing_m"), 1e-6);
        near(&id, there.convergence.angle().degrees(), row.number("convergence_deg"), 1e-10);
        near(&id, there.scale, row.number("scale"), 1e-12);
        let back = grid.inverse(row.number("easting_m"), row.number("northing_m")).unwrap();
        assert!(geodesic::inverse(back.place, place).distance_m < 1e-6, "{id}");
        near(&id, back.convergence.angle().degrees(), row.number("convergence_deg"), 1e-10);
        near(&id, back.scale, row.number("scale"), 1e-12);
    }
}

#[test]
fn karneys_500_geodesics_agree_to_some_nanometres() {
    let rows = rows("karney_GeodTest_first500.csv");
    assert_eq!(rows.len(), 500);
    for row in rows {
        let (from, to) = (row.place("lat1", "lon1"), row.place("lat2", "lon2"));
        let id = from.to_string();
        // Across the line a wrong bearing moves the end by the reduced length times the angle.
        let reduced = row.number("m12_m").abs();
        let (start, end) = (row.number("azi1"), row.number("azi2"));
        let leg = geodesic::inverse(from, to);
        near(&id, leg.distance_m, row.number("s12_m"), 2e-8);
        assert!(turn(leg.bearing.degrees(), start).to_radians() * reduced < 2e-8, "{id}");
        assert!(turn(leg.back_bearing.degrees(), end + 180.0).to_radians() * reduced < 2e-8, "{id}");
        let arrival = geodesic::direct(from, Bearing::from_degrees(start), row.number("s12_m"));
        assert!(geodesic::inverse(arrival.place, to).distance_m < 2e-8, "{id}");
    }
}

#[test]
fn published_geodesics_agree() {
    let minutes = |degrees: f64, minutes: f64, seconds: f64| degrees + (minutes + seconds / 60.0) / 60.0;
    // CV115, geographiclib 2.1 test GeodSolve0.
    let leg = geodesic::inverse(
        Place::from_degrees(40.6, -73.8).unwrap(),
        Place::from_degrees(minutes(49.0, 1.0, 0.0), minutes(2.0, 33.0, 0.0)).unwrap(),
    );
    near("CV115 start", leg.bearing.degrees(), 53.470_22, 0.5e-5);
    near("CV115 end", leg.back_bearing.degrees() - 180.0, 111.593_67, 0.5e-5);
    near("CV115 length", leg.distance_m, 5_853_226.0, 0.5);
    // CV116, GeographicLib 2.1.2 GeodSolve manual page.
    let leg =
        geodesic::inverse(Place::read("40°38′23″N 73°46′44″W").unwrap(), Place::read("1°21′33″N 103°59′22″E").unwrap());
    let tenth_of_a_second = 0.1 / 3600.0;
    near("CV116 start", leg.bearing.degrees(), minutes(3.0, 18.0, 29.9), tenth_of_a_second);
    // It passes near the pole: begun northward, it ends southward.
    near("CV116 end", leg.back_bearing.back().degrees(), minutes(177.0, 29.0, 9.2), tenth_of_a_second);
    near("CV116 length", leg.distance_m, 15_347_628.0, 1.0);
}

/// OSGB36 National Grid (CV109, CV110, CV074, CV075): Airy 1830, 49° N 2° W, k₀ 0.9996012717, E₀ 400000, N₀ −100000.
fn national_grid() -> TransverseMercator {
    let airy = Ellipsoid::new(6_377_563.396, (6_377_563.396 - 6_356_256.909) / 6_377_563.396).unwrap();
    TransverseMercator::new(airy, 0.999_601_271_7, Place::from_degrees(49.0, -2.0).unwrap(), 4e5, -1e5)
}

#[test]
fn published_projections_of_other_ellipsoids_agree() {
    // CV108, Snyder, USGS PP 1395, numerical example: Clarke 1866.
    let clarke = Ellipsoid::new(6_378_206.4, (6_378_206.4 - 6_356_583.8) / 6_378_206.4).unwrap();
    let grid = TransverseMercator::new(clarke, 0.9996, Place::from_degrees(0.0, -75.0).unwrap(), 0.0, 0.0);
    let there = grid.forward(Place::from_degrees(40.5, -73.5).unwrap()).unwrap();
    near("CV108 x", there.easting_m, 127_106.5, 0.1);
    near("CV108 y", there.northing_m, 4_484_124.4, 0.1);
    near("CV108 k", there.scale, 0.999_798_9, 1e-7);

    // CV109, IOGP Guidance Note 7-2, EPSG method 9807 example.
    let there = national_grid().forward(Place::from_degrees(50.5, 0.5).unwrap()).unwrap();
    near("CV109 E", there.easting_m, 577_274.99, 0.02);
    near("CV109 N", there.northing_m, 69_740.50, 0.02);

    // CV110, Ordnance Survey, "A guide to coordinate systems in Great Britain", annexe C.
    let tower = Place::read("52°39′27.2531″N 1°43′4.5177″E").unwrap();
    let there = national_grid().forward(tower).unwrap();
    near("CV110 E", there.easting_m, 651_409.903, 0.001);
    near("CV110 N", there.northing_m, 313_177.270, 0.001);
    let back = national_grid().inverse(651_409.903, 313_177.270).unwrap();
    assert!(geodesic::inverse(back.place, tower).distance_m < 0.001);
}

#[test]
fn published_convergences_agree() {
    // CV074 and CV075, PROJ 9.5.1 with the National Grid's parameters: 2°43′ west and 2°59′ east, to 3′ and 1′.
    let lean = |latitude, longitude| {
        national_grid()
            .forward(Place::from_degrees(latitude, longitude).unwrap())
            .unwrap()
            .convergence
            .angle()
            .minutes()
    };
    near("CV074", lean(50.118, -5.537), -(2.0 * 60.0 + 43.0), 3.0);
    near("CV075", lean(52.475, 1.752), 2.0 * 60.0 + 59.0, 1.0);
    // CV126: 3° east of the middle at 45° N, PROJ 9.5.1 gives 2.12230 for about 3° × sin 45°.
    let degrees =
        Utm::from_place(Place::from_degrees(45.0, 11.999_999_999).unwrap()).unwrap().convergence().angle().degrees();
    near("CV126", degrees, 2.122_30, 1e-5);
}

#[test]
fn rows_cited_on_their_own_agree_to_a_nanometre_or_so() {
    // CV111 lies 45° out, beyond what is offered; CV112 and CV113 within 4° of the central meridian.
    let grid = TransverseMercator::new(Ellipsoid::WGS84, 0.9996, Place::from_degrees(0.0, 0.0).unwrap(), 0.0, 0.0);
    assert!(grid.forward(Place::from_degrees(70.579_277_094_557, 45.599_419_731_762).unwrap()).is_err());
    for (latitude, longitude, easting, northing) in [
        (33.028_801_664_026, 0.765_842_683_855, 71_519.450_457_530_68, 3_654_740.444_851_887),
        (55.753_535_712_331, 3.471_798_114_123, 217_855.546_078_008_54, 6_184_108.122_568_177),
    ] {
        let there = grid.forward(Place::from_degrees(latitude, longitude).unwrap()).unwrap();
        near("E", there.easting_m, easting, 3e-9);
        near("N", there.northing_m, northing, 3e-9);
    }
}

#[test]
fn the_centre_of_a_published_square_agrees() {
    // CV117, GeographicLib 2.1.2 GeoConvert manual page: the centre of 38SMB4488 is UTM 38n 444500 3688500.
    let square = Mgrs::read("38SMB4488").unwrap();
    assert_eq!(square.corner_m(), (444_000, 3_688_000));
    let centre = Place::read("zone 38 north 444500 3688500").unwrap();
    near("latitude", centre.latitude.degrees(), 33.334_24, 1e-5);
    near("longitude", centre.longitude.degrees(), 44.403_63, 1e-5);
    assert_eq!(Mgrs::from_place(centre, Precision::Km1), Ok(square));
}

#[test]
fn a_text_at_its_own_corner_is_the_same_text_at_every_precision() {
    // Corners with whole metres come back from degrees some nanometres short; cutting off must not lose a metre.
    for easting in [500_000, 512_345, 599_999, 600_000, 621_987] {
        for northing in [0, 1, 99_999, 100_000, 1_234_567, 3_999_999, 5_265_000] {
            let text = format!("zone 32 north {easting} {northing}");
            let place = Place::read(&text).unwrap();
            let finest = Mgrs::from_place(place, Precision::M1).unwrap();
            assert_eq!(finest.corner_m(), (easting, northing), "{text}");
            for precision in Precision::ALL {
                let printed = Mgrs::from_place(place, precision).unwrap().to_string();
                assert_eq!(Mgrs::read(&printed).map(|mgrs| mgrs.to_string()), Ok(printed));
            }
        }
    }
}

#[test]
fn bad_places_are_refused_in_words_that_help() {
    for (text, message) in [
        ("91,0", "91 is not a latitude: latitudes run from 90 south (-90) to 90 north"),
        ("0,181", "181 is not a longitude: longitudes run from 180 west (-180) to 180 east"),
        (
            "32TPT12345",
            "5 figures cannot be shared out: easting and northing need as many each; add one or take one off",
        ),
    ] {
        assert_eq!(Place::read(text).map_err(|error| error.to_string()), Err(message.to_owned()), "{text}");
    }
}

#[test]
fn one_place_is_read_from_all_its_notations() {
    let utm = Utm::read("zone 32 north 691000 5265000").unwrap();
    assert_eq!(utm.zone(), Zone::new(32).unwrap());
    let expected = utm.place();
    for text in ["32T 691000 5265000", "32T 691000mE 5265000mN", "32TPT9165", "32T PT 91000 65000", "32tpt 910 650"] {
        assert_eq!(Place::read(text), Ok(expected), "{text}");
    }
    let printed = format!("{expected:.9}");
    let again = Place::read(&printed).unwrap();
    assert!(geodesic::inverse(again, expected).distance_m < 1e-3, "{printed}");
}

fn position(row: &Row, east: &str, north: &str) -> GridPosition {
    GridPosition { easting_m: row.number(east), northing_m: row.number(north) }
}

#[test]
fn all_fixes_on_the_plane_agree_with_numpy() {
    let rows = rows("plane_fixes.csv");
    assert_eq!(rows.len(), 300);
    for row in rows {
        let (a, b) = (position(&row, "E_A", "N_A"), position(&row, "E_B", "N_B"));
        let bearing = |column| Bearing::from_degrees(row.number(column));
        // From the marks to the unknown place or from there to the marks: the same lines.
        let fix = |first, second| intersection((a, first), (b, second));
        let (first, second) = (bearing("bearing1_grid_deg"), bearing("bearing2_grid_deg"));
        let found = fix(first, second).unwrap();
        let id = row.text("id");
        let moved = |other: GridPosition| found.at.leg_to(other).distance_m;
        near(id, moved(position(&row, "E_fix", "N_fix")), 0.0, 1e-3);
        near(id, found.cut.degrees(), row.number("cut_angle_deg"), 5.1e-4);
        let more = |bearing: Bearing<_>| Bearing::from_degrees(bearing.degrees() + 1.0);
        near(id, moved(fix(more(first), second).unwrap().at), row.number("fix_shift_per_deg_bearing1_m"), 1e-3);
        near(id, moved(fix(first, more(second)).unwrap().at), row.number("fix_shift_per_deg_bearing2_m"), 1e-3);
    }
}

#[test]
fn all_plane_courses_end_where_numpy_says() {
    let rows = rows("courses.csv");
    assert_eq!(rows.len(), 300);
    for row in rows {
        let start = GridPosition { easting_m: 0.0, northing_m: 0.0 };
        let (mut end, mut walked) = (start, 0.0);
        for leg in row.text("legs_bearing_deg:distance_m").split(' ') {
            let (bearing, metres) = leg.split_once(':').unwrap();
            let distance_m: f64 = metres.parse().unwrap();
            end = end.after(GridLeg { bearing: Bearing::from_degrees(bearing.parse().unwrap()), distance_m });
            walked += distance_m;
        }
        let id = row.text("id");
        near(id, end.easting_m, row.number("end_E_offset_m"), 5.1e-5);
        near(id, end.northing_m, row.number("end_N_offset_m"), 5.1e-5);
        near(id, walked, row.number("total_path_m"), 1e-9);
        let home = end.leg_to(start);
        near(id, turn(home.bearing.degrees(), row.number("bearing_back_to_start_deg")), 0.0, 5.1e-6);
        near(id, home.distance_m, row.number("distance_back_to_start_m"), 5.1e-5);
        near(id, turn(start.leg_to(end).bearing.degrees(), row.number("direct_bearing_out_deg")), 0.0, 5.1e-6);
    }
}
