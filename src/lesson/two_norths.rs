//! Lesson 4: two norths, and the angle between them over the world.

use super::figure::{Figure, Knob};
use super::{Lesson, Question, Screen, Site};
use crate::angle::Angle;
use crate::geomag::Model;
use crate::ground::{Latitude, Longitude, Place};
use crate::scene::Scene;
use crate::world::{self, Chart, Cursor};
use jiff::civil::{Date, date};

pub(super) static LESSON: Lesson = Lesson {
    id: "two-norths",
    title: "Two norths",
    idea: "The needle points to magnetic north, the map's lines to the North Pole: the angle between is the declination.",
    before: &["diagram"],
    screens: &[
        Screen {
            text: "The needle lines up with the earth's magnetism: magnetic north (MN). Straight up lies true north (TN), toward the North Pole. Move over the world.",
            figure: |site| Box::new(World::new(site, false)),
        },
        Screen {
            text: "The angle between is the declination, in degrees and sixtieths (′). On each line it is the same; on the thick one nothing. Move there.",
            figure: |site| Box::new(World::new(site, true)),
        },
        Screen {
            text: "The earth's magnetism changes slowly, so an old map's declination is out of date. Stay where you are and let the years go by.",
            figure: |site| Box::new(Years::new(site)),
        },
    ],
    question: Question {
        text: "Where you are the needle points 9° to the left of true north. What is the declination?",
        choices: &["9° east", "9° west", "351° north"],
        right: 1,
        why: "Left of north is west when you look north. The declination says on which side of true north the needle points, and how far.",
    },
};

/// The first day of a year of the model's five.
fn first_of(year: i16) -> Date {
    date(year.clamp(Model::FIRST.year(), Model::LAST.year() - 1), 1, 1)
}

/// A cursor on the picture of the world.
#[derive(Debug)]
struct World {
    chart: Chart,
    home: Option<Place>,
    cursor: Cursor,
    wants_agonic: bool,
}

impl World {
    fn new(site: &Site, wants_agonic: bool) -> World {
        let start = site.place.unwrap_or(Place::new(Latitude::EQUATOR, Longitude::PRIME));
        World { chart: Chart::of(site.day), home: site.place, cursor: Cursor::on(start), wants_agonic }
    }

    fn place(&self) -> Place {
        self.cursor.place()
    }
}

impl Figure for World {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("go west or east", 2, 20), Knob::new("go south or north", 2, 20)] }
    }

    fn turn(&mut self, knob: usize, by: i32) {
        if knob == 0 { self.cursor.go(0, by) } else { self.cursor.go(by, 0) }
    }

    fn says(&self) -> String {
        world::words(self.place(), self.chart.day())
    }

    fn reached(&self) -> bool {
        let declination = world::field(self.place(), self.chart.day()).map(|field| field.declination().angle());
        !self.wants_agonic || declination.is_some_and(|angle| angle.abs() <= Angle::from_degrees(1.0))
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        let aside = (width_mm * 0.3).min(height_mm * 0.9);
        let size = (width_mm - aside - text_mm, height_mm);
        let map = world::picture(&self.chart, self.place(), self.home, size, text_mm);
        map.beside(world::norths(self.place(), self.chart.day(), (aside, height_mm), text_mm), text_mm)
    }
}

/// One place over the model's years.
#[derive(Debug)]
struct Years {
    world: World,
    year: i16,
}

impl Years {
    fn new(site: &Site) -> Years {
        let year = Model::FIRST.year();
        let world = World::new(&Site { day: first_of(year), ..site.clone() }, false);
        Years { world, year }
    }
}

impl Figure for Years {
    fn knobs(&self) -> &'static [Knob] {
        const { &[Knob::new("let years go by", 1, 1)] }
    }

    fn turn(&mut self, _knob: usize, by: i32) {
        let by = i16::try_from(by).unwrap_or(0);
        self.year = first_of(self.year.saturating_add(by)).year();
        self.world.chart = Chart::of(first_of(self.year));
    }

    fn says(&self) -> String {
        format!("1 January {}. {}", self.year, self.world.says())
    }

    fn scene(&self, width_mm: f64, height_mm: f64, text_mm: f64) -> Scene {
        self.world.scene(width_mm, height_mm, text_mm)
    }
}
