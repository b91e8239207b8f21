//! The magnetic model against values from outside the project. The source of each is in the head of its file in
//! `tests/reference/`, or in the row itself.

use crate::angle::Angle;
use crate::geomag::{Field, Model, Spot, Zone};

fn spot(latitude: f64, longitude: f64, height_m: f64) -> Spot {
    Spot::new(Angle::from_degrees(latitude), Angle::from_degrees(longitude), height_m).unwrap()
}

fn field_in_year(latitude: f64, longitude: f64, height_m: f64, year: f64) -> Field {
    Model::wmm2025().field_in_year(spot(latitude, longitude, height_m), year).unwrap()
}

/// One row of a reference file, its cells found by the names in the file's head.
struct Row {
    names: csv::StringRecord,
    cells: csv::StringRecord,
}

impl Row {
    fn text(&self, name: &str) -> &str {
        let column = self.names.iter().position(|other| other == name).unwrap_or_else(|| panic!("no column {name}"));
        &self.cells[column]
    }

    fn number(&self, name: &str) -> f64 {
        self.text(name).parse().unwrap_or_else(|_| panic!("{name} is no number in {:?}", self.cells))
    }

    /// `ours` agrees with the printed number of that column.
    fn check(&self, name: &str, ours: f64, tolerance: f64) {
        let printed = self.number(name);
        assert!((ours - printed).abs() <= tolerance, "{name}: {ours} is not {printed} in {:?}", self.cells);
    }

    /// The same for an angle that may have gone round.
    fn check_turn(&self, name: &str, ours: Angle, tolerance: f64) {
        let off = (ours - Angle::from_degrees(self.number(name))).wrapped_half().degrees();
        assert!(off.abs() <= tolerance, "{name}: {} is not {} in {:?}", ours.degrees(), self.text(name), self.cells);
    }
}

fn rows(file: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let names = reader.headers().unwrap().clone();
    reader.records().map(|cells| Row { names: names.clone(), cells: cells.unwrap() }).collect()
}

#[test]
fn all_hundred_test_values_of_the_models_makers_are_met_in_every_field_and_rate() {
    let rows = rows("wmm2025_test_values.csv");
    assert_eq!(rows.len(), 100);
    for row in rows {
        let field =
            field_in_year(row.number("lat"), row.number("lon"), row.number("height_km") * 1000.0, row.number("date"));
        // Angles are printed to 0.01 degrees; fields and rates have six decimals, but were worked out less exactly.
        row.check_turn("D_deg", field.declination().angle(), 0.005 + 1e-9);
        row.check("I_deg", field.inclination().degrees(), 0.005 + 1e-9);
        for (name, ours) in [
            ("X_nT", field.north_nt()),
            ("Y_nT", field.east_nt()),
            ("Z_nT", field.down_nt()),
            ("H_nT", field.horizontal_nt()),
            ("F_nT", field.total_nt()),
        ] {
            row.check(name, ours, 0.001);
        }
        for (name, ours) in [
            ("dD_deg_per_year", field.annual_change().angle().degrees()),
            ("dI_deg_per_year", field.inclination_change().degrees()),
            ("dX_nT_per_year", field.north_change_nt()),
            ("dY_nT_per_year", field.east_change_nt()),
            ("dZ_nT_per_year", field.down_change_nt()),
            ("dH_nT_per_year", field.horizontal_change_nt()),
            ("dF_nT_per_year", field.total_change_nt()),
        ] {
            row.check(name, ours, 2e-6);
        }
    }
}

#[test]
fn all_two_thousand_rows_of_two_general_libraries_are_met_to_their_last_digit() {
    let rows = rows("declination.csv");
    assert_eq!(rows.len(), 2000);
    let mut zones = [0; 3];
    for row in rows {
        let spot = spot(row.number("lat"), row.number("lon"), row.number("height_km") * 1000.0);
        let field = Model::wmm2025().field(spot, row.text("date").parse().unwrap()).unwrap();
        row.check_turn("D_deg", field.declination().angle(), 1e-5);
        row.check("dD_deg_per_year", field.annual_change().angle().degrees(), 1e-6);
        row.check("dD_arcmin_per_year", field.annual_change().angle().minutes(), 0.000_5 + 1e-6);
        row.check("I_deg", field.inclination().degrees(), 1e-5);
        row.check("H_nT", field.horizontal_nt(), 0.005 + 1e-6);
        row.check("F_nT", field.total_nt(), 0.005 + 1e-6);
        row.check("D_uncertainty_deg", field.uncertainty().degrees(), 0.000_5 + 1e-6);
        let zone = match row.text("zone_flag") {
            "ok" => Zone::Normal,
            "caution" => Zone::Caution,
            "blackout" => Zone::Blackout,
            other => panic!("unknown zone {other}"),
        };
        assert_eq!(field.zone(), zone, "{:?}", row.cells);
        zones[zone as usize] += 1;
    }
    assert_eq!(zones, [1885, 88, 27], "the rows reach all zones");
}

/// The cells `given` and `expected` of one row of check_values.csv.
fn check_value(id: &str) -> (String, String) {
    let rows = rows("check_values.csv");
    let row = rows.iter().find(|row| row.text("id") == id).unwrap_or_else(|| panic!("{id} is missing"));
    (row.text("given").to_owned(), row.text("expected").to_owned())
}

/// The number that follows a word (`lat 80`, `D -0.16`).
fn after(text: &str, word: &str) -> f64 {
    let words: Vec<&str> = text.split([' ', ',']).collect();
    let at = words.iter().position(|other| *other == word).unwrap_or_else(|| panic!("no {word} in {text}"));
    words[at + 1].trim_end_matches("/yr").parse().unwrap_or_else(|_| panic!("no number after {word} in {text}"))
}

fn close(ours: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((ours - expected).abs() <= tolerance, "{what}: {ours} is not {expected}");
}

#[test]
fn cv083_to_cv094_the_twelve_positions_of_the_report() {
    for number in 83..=94 {
        let id = format!("CV{number:03}");
        let (given, expected) = check_value(&id);
        // "2027.5, 100 km, lat -80 lon 240"
        let mut parts = given.split(", ");
        let year = parts.next().unwrap().parse().unwrap();
        let height_km: f64 = parts.next().unwrap().trim_end_matches(" km").parse().unwrap();
        let longitude = Angle::from_degrees(after(&given, "lon")).wrapped_half().degrees();
        let field = field_in_year(after(&given, "lat"), longitude, height_km * 1000.0, year);
        close(field.declination().angle().degrees(), after(&expected, "D"), 0.005, &id);
        close(field.inclination().degrees(), after(&expected, "I"), 0.005, &id);
        close(field.horizontal_nt(), after(&expected, "H"), 0.05 + 1e-6, &id);
        close(field.total_nt(), after(&expected, "F"), 0.05 + 1e-6, &id);
        close(field.annual_change().angle().degrees(), after(&expected, "dD"), 0.005, &id);
    }
}

#[test]
fn cv095_the_documentation_example_of_a_numerical_package() {
    let (given, expected) = check_value("CV095");
    assert_eq!(given, "42.283N 71.35W 1000 m 2028-07-04");
    assert_eq!(expected, "D -13.6891 I 65.9899 F 50940");
    let field = Model::wmm2025().field(spot(42.283, -71.35, 1000.0), jiff::civil::date(2028, 7, 4)).unwrap();
    close(field.declination().angle().degrees(), -13.6891, 0.000_1, "D");
    close(field.inclination().degrees(), 65.9899, 0.000_1, "I");
    close(field.total_nt(), 50_940.0, 0.5, "F");
}

#[test]
fn cv096_the_needle_stands_upright_at_the_dip_poles() {
    let (given, expected) = check_value("CV096");
    assert_eq!((given.as_str(), expected.as_str()), ("dip poles at 2025.0", "85.762N 139.295E and 63.851S 135.078E"));
    for (latitude, longitude) in [(85.762, 139.295), (-63.851, 135.078)] {
        let level = |at: [f64; 2]| field_in_year(at[0], at[1], 0.0, 2025.0).horizontal_nt();
        // Walk downhill from a degree and a half away, halving the stride whenever no direction goes down.
        let mut at = [latitude - 1.0, longitude + 1.0];
        let mut stride = 0.5;
        while stride > 1e-6 {
            let ways = [[stride, 0.0], [-stride, 0.0], [0.0, stride], [0.0, -stride]];
            match ways.map(|way| [at[0] + way[0], at[1] + way[1]]).into_iter().find(|next| level(*next) < level(at)) {
                Some(next) => at = next,
                None => stride /= 2.0,
            }
        }
        close(at[0], latitude, 0.01, "latitude");
        close(at[1], longitude, 0.01, "longitude");
        let pole = field_in_year(at[0], at[1], 0.0, 2025.0);
        assert!(pole.inclination().abs().degrees() > 89.9999 && pole.zone() == Zone::Blackout);
    }
}

// CV097 (error model) and CV098 (zones) are checked beside the code, in src/geomag/field.rs and src/geomag/zone.rs.

#[test]
fn cv099_declination_is_typically_good_to_half_a_degree() {
    let (_, expected) = check_value("CV099");
    assert_eq!(expected, "30'");
    let mut uncertainties: Vec<f64> = rows("declination.csv")
        .iter()
        .map(|row| {
            let field = field_in_year(row.number("lat"), row.number("lon"), 0.0, row.number("decimal_year"));
            field.uncertainty().minutes()
        })
        .collect();
    uncertainties.sort_by(f64::total_cmp);
    let typical = uncertainties[uncertainties.len() / 2];
    assert!((15.0..=30.0).contains(&typical), "{typical}");
}

#[test]
fn cv100_to_cv107_eight_cities() {
    for number in 100..=107 {
        let id = format!("CV{number:03}");
        let (given, expected) = check_value(&id);
        // "London 51.5074 -0.1278 at 2025.0, 0 km"
        let place = given.strip_suffix(" at 2025.0, 0 km").unwrap_or_else(|| panic!("{given}"));
        let numbers: Vec<f64> = place.split(' ').filter_map(|word| word.parse().ok()).collect();
        let [latitude, longitude] = numbers[..] else { panic!("{given}") };
        let field = field_in_year(latitude, longitude, 0.0, 2025.0);
        close(field.declination().angle().degrees(), after(&expected, "D"), 0.01, &id);
        close(field.annual_change().angle().minutes(), after(&expected, "dD"), 0.1, &id);
        close(field.inclination().degrees(), after(&expected, "I"), 0.1, &id);
    }
}
