//! Texts of places, grid references, bearings and angles: the text goes to every reader.
//!
//! Holds: nothing panics; a place is one on the earth; what is printed reads back the same, within what it is printed to.
#![no_main]

use libfuzzer_sys::fuzz_target;
use needlewise::angle::{read_bearing, read_declination};
use needlewise::config::{HomePlace, read_annual_change, read_day, read_name, read_printed_angle};
use needlewise::course::read_bearings;
use needlewise::ground::{GridReference, Mgrs, Place, Precision, Utm, geodesic};
use needlewise_fuzz::{assert_said, assert_showable};

fuzz_target!(|text: &str| {
    match Place::read(text) {
        Ok(place) => {
            assert_eq!(HomePlace::read(text).map(|home| home.place()), Ok(place));
            place_holds(place, text);
        }
        Err(error) => assert_said(&error),
    }
    if let Ok(utm) = Utm::read(text) {
        utm_holds(&utm, text);
        place_holds(utm.place(), text);
    }
    if let Ok(mgrs) = Mgrs::read(text) {
        let printed = mgrs.to_string();
        assert_eq!(Mgrs::read(&printed), Ok(mgrs), "{text:?} {printed}");
        place_holds(mgrs.place(), text);
    }
    if let Ok(reference) = GridReference::read(text) {
        assert_eq!(GridReference::read(&reference.to_string()), Ok(reference), "{text:?}");
        let (east, north) = reference.middle_m();
        assert_eq!(
            GridReference::of_metres(reference.letters(), east, north, reference.figures()),
            Some(reference),
            "{text:?}"
        );
    }
    if let Ok(typed) = read_bearing(text) {
        let _ = typed.is_on_the_circle();
    }
    if let Ok(bearings) = read_bearings(text) {
        let printed: Vec<String> = bearings
            .iter()
            .map(|bearing| bearing.map_or_else(|| "-".to_owned(), |it| it.angle().degrees().to_string()))
            .collect();
        assert_eq!(read_bearings(&printed.join(",")), Ok(bearings), "{text:?}");
    }
    let _ = read_declination(text);
    let _ = (read_printed_angle(text), read_annual_change(text), read_day(text));
    if let Ok(name) = read_name(text) {
        assert_showable(&name);
        assert_eq!(read_name(&name), Ok(name.clone()));
    }
});

fn place_holds(place: Place, text: &str) {
    let (latitude, longitude) = (place.latitude.degrees(), place.longitude.degrees());
    assert!(latitude.abs() <= 90.0 && longitude.abs() <= 180.0, "{text:?}: {place:?}");
    let printed = place.to_string();
    let again = Place::read(&printed).unwrap_or_else(|error| panic!("{text:?} prints {printed}: {error}"));
    // Five decimals are printed.
    assert!((again.latitude.degrees() - latitude).abs() < 0.000_006, "{text:?} {printed}");
    assert!((again.longitude.degrees() - longitude).abs() < 0.000_006, "{text:?} {printed}");
    let Ok(utm) = Utm::from_place(place) else { return };
    utm_holds(&utm, text);
    for precision in Precision::ALL {
        let Ok(mgrs) = Mgrs::from_place(place, precision) else { continue };
        let printed = mgrs.to_string();
        let again = Mgrs::read(&printed).unwrap_or_else(|error| panic!("{text:?} prints {printed}: {error}"));
        assert_eq!(again, mgrs, "{text:?} {printed}");
        // The corner lies no further away than the square is wide, across.
        let away = geodesic::inverse(mgrs.place(), place).distance_m;
        assert!(away <= 1.5 * f64::from(precision.side_m()), "{text:?} {printed}: {away}");
    }
}

fn utm_holds(utm: &Utm, text: &str) {
    let printed = utm.to_string();
    let again = Utm::read(&printed).unwrap_or_else(|error| panic!("{text:?} prints {printed}: {error}"));
    assert!((again.easting_m() - utm.easting_m()).abs() <= 1.0, "{text:?} {printed}");
    assert!((again.northing_m() - utm.northing_m()).abs() <= 1.0, "{text:?} {printed}");
}
