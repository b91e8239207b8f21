//! Lines of the land that somebody can stand on: the paths, and the streams on their way over dry land.
use super::map::Map;
use super::spot::Spot;

/// Of a path every second corner is kept, of a stream, whose steps are shorter, every third: what is left out lies nearer to the
/// line than it is drawn wide.
const PATH_STEPS: usize = 2;
const STREAM_STEPS: usize = 3;

/// What a line of the land is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WayKind {
    /// A path.
    Path,
    /// A brook that has its source on the sheet.
    Brook,
    /// The river.
    River,
}

/// A line of the land.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// What it is.
    pub kind: WayKind,
    /// Its corners from one end to the other, at least two; of a stream the longest piece outside of the lake.
    pub line: Vec<Spot>,
}

impl Map {
    /// The paths and streams of the sheet.
    #[must_use]
    pub fn ways(&self) -> Vec<Way> {
        let paths = self.paths.iter().map(|path| Way { kind: WayKind::Path, line: thinned(path, PATH_STEPS) });
        let streams = self.water.streams.iter().filter_map(|stream| {
            let kind = if stream.springs_here { WayKind::Brook } else { WayKind::River };
            let dry = stream.line.split(|&at| self.water.lake.holds(at) || !self.holds(at));
            let longest = dry.max_by_key(|piece| piece.len()).filter(|piece| piece.len() >= 2)?;
            Some(Way { kind, line: thinned(longest, STREAM_STEPS) })
        });
        paths.chain(streams).collect()
    }

    /// Whether a place lies in the lake.
    #[must_use]
    pub fn is_in_lake(&self, spot: Spot) -> bool {
        self.water.lake.holds(spot)
    }

    /// Whether a place lies on the sheet.
    #[must_use]
    pub fn holds(&self, spot: Spot) -> bool {
        (0.0..=self.spec().width_mm).contains(&spot.east_mm) && (0.0..=self.spec().height_mm).contains(&spot.north_mm)
    }
}

/// Every so-manieth corner, and both ends.
fn thinned(line: &[Spot], steps: usize) -> Vec<Spot> {
    let mut kept: Vec<Spot> = line.iter().copied().step_by(steps).collect();
    if !line.len().saturating_sub(1).is_multiple_of(steps) {
        kept.extend(line.last().copied());
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::super::MapSpec;
    use super::*;

    #[test]
    fn ways_keep_their_ends_and_run_over_dry_land_on_the_sheet() {
        let (mut streams, mut paths) = (0, 0);
        for seed in 0..60 {
            let map = Map::generate(seed, &MapSpec::default());
            for way in map.ways() {
                assert!(way.line.len() >= 2 && way.line.iter().all(|&at| map.holds(at)), "seed {seed}");
                if way.kind == WayKind::Path {
                    let whole =
                        map.paths.iter().any(|path| path.first() == way.line.first() && path.last() == way.line.last());
                    assert!(whole, "seed {seed}: an end is missing");
                    paths += 1;
                } else {
                    assert!(way.line.iter().all(|&at| !map.water.lake.holds(at)), "seed {seed}: in the lake");
                    streams += 1;
                }
            }
        }
        assert!(paths > 100 && streams > 60, "{paths} paths, {streams} streams");
    }
}
