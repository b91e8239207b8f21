//! The magnetic model asks for no memory: every allocation of this test's thread is counted.

use needlewise::angle::Angle;
use needlewise::geomag::{Model, Spot};
use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;
use std::hint::black_box;

struct Counting;

thread_local! {
    static COUNT: Cell<usize> = const { Cell::new(0) };
}

fn count() {
    // A thread that is ending has no counter any more, and nothing to count.
    let _ = COUNT.try_with(|count| count.set(count.get() + 1));
}

// SAFETY: every call is handed on to the system's allocator unchanged; counting neither allocates nor panics.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count();
        unsafe { System.alloc(layout) }
    }

    unsafe fn realloc(&self, block: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        count();
        unsafe { System.realloc(block, layout, size) }
    }

    unsafe fn dealloc(&self, block: *mut u8, layout: Layout) {
        unsafe { System.dealloc(block, layout) }
    }
}

#[global_allocator]
static ALLOCATOR: Counting = Counting;

fn allocations(work: impl FnOnce()) -> usize {
    let before = COUNT.get();
    work();
    COUNT.get() - before
}

#[test]
fn a_field_and_all_that_follows_from_it_need_no_allocation() {
    let date = jiff::civil::date(2027, 6, 15);
    let asked = allocations(|| {
        for (latitude, longitude, height_m) in [(47.0, 11.0, 900.0), (90.0, -180.0, 0.0), (-33.9, 18.4, 850_000.0)] {
            let spot = Spot::new(Angle::from_degrees(latitude), Angle::from_degrees(longitude), height_m).unwrap();
            let field = black_box(Model::wmm2025().field(black_box(spot), date).unwrap());
            black_box((field.declination(), field.annual_change(), field.uncertainty(), field.zone().caution()));
            black_box((field.inclination(), field.inclination_change(), field.total_nt(), field.total_change_nt()));
        }
    });
    assert_eq!(asked, 0);
}

#[test]
fn a_refusal_needs_no_allocation_either() {
    let spot = Spot::new(Angle::from_degrees(47.0), Angle::from_degrees(11.0), 900.0).unwrap();
    let asked = allocations(|| {
        black_box(Model::wmm2025().field(spot, jiff::civil::date(2031, 1, 1)).is_err());
        black_box(Spot::new(Angle::ZERO, Angle::ZERO, -50_000.0).is_err());
    });
    assert_eq!(asked, 0);
}

#[test]
fn the_counter_counts() {
    assert_eq!(allocations(|| drop(black_box(vec![1_u8; 100]))), 1);
}
