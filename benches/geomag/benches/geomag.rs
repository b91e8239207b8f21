//! Declination with annual change against a general reference library (which gives no annual change), in one run:
//! `cd benches/geomag && cargo bench`. The goal is at most 0.7 of the library's time for the declination alone.
#![expect(clippy::cast_possible_truncation, reason = "the other library takes f32")]

use criterion::{Criterion, criterion_group, criterion_main};
use needlewise::angle::Angle;
use needlewise::geomag::{Model, Spot};
use std::hint::black_box;
use world_magnetic_model::GeomagneticField;
use world_magnetic_model::time::Date;
use world_magnetic_model::uom::si::angle::degree;
use world_magnetic_model::uom::si::f32::{Angle as LibraryAngle, Length};
use world_magnetic_model::uom::si::length::meter;

const PLACE: (f64, f64, f64) = (47.3, 11.4, 900.0);

fn declination(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("declination");

    let date = jiff::civil::date(2027, 6, 15);
    group.bench_function("needlewise, with annual change", |bencher| {
        bencher.iter(|| {
            let (latitude, longitude, height_m) = black_box(PLACE);
            let spot = Spot::new(Angle::from_degrees(latitude), Angle::from_degrees(longitude), height_m).unwrap();
            let field = Model::wmm2025().field(spot, black_box(date)).unwrap();
            (field.declination(), field.annual_change())
        });
    });
    group.bench_function("needlewise, everything", |bencher| {
        bencher.iter(|| {
            let (latitude, longitude, height_m) = black_box(PLACE);
            let spot = Spot::new(Angle::from_degrees(latitude), Angle::from_degrees(longitude), height_m).unwrap();
            let field = Model::wmm2025().field(spot, black_box(date)).unwrap();
            let north = (field.declination(), field.annual_change(), field.uncertainty(), field.zone());
            (north, field.inclination(), field.inclination_change(), field.total_nt(), field.total_change_nt())
        });
    });

    let date = Date::from_ordinal_date(2027, 166).unwrap();
    group.bench_function("world_magnetic_model, declination alone", |bencher| {
        bencher.iter(|| {
            let (latitude, longitude, height_m) = black_box(PLACE);
            GeomagneticField::new(
                Length::new::<meter>(height_m as f32),
                LibraryAngle::new::<degree>(latitude as f32),
                LibraryAngle::new::<degree>(longitude as f32),
                black_box(date),
            )
            .unwrap()
            .declination()
        });
    });
    group.finish();
}

criterion_group!(benches, declination);
criterion_main!(benches);
