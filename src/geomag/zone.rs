//! Where a compass can be trusted.

/// How far a compass can be trusted at a place, after the strength H of the horizontal field.
///
/// The bounds are those of the WMM technical report, 2,000 and 6,000 nT.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Zone {
    /// H ≥ 6,000 nT.
    Normal,
    /// 2,000 ≤ H < 6,000 nT: large errors.
    Caution,
    /// H < 2,000 nT: no use for a compass.
    Blackout,
}

impl Zone {
    /// All three, from the best to the worst.
    #[cfg(test)]
    pub const ALL: [Zone; 3] = [Zone::Normal, Zone::Caution, Zone::Blackout];

    /// The zone for a horizontal field in nT.
    #[must_use]
    pub const fn of_horizontal_nt(horizontal_nt: f64) -> Zone {
        if horizontal_nt >= 6_000.0 {
            Zone::Normal
        } else if horizontal_nt >= 2_000.0 {
            Zone::Caution
        } else {
            Zone::Blackout
        }
    }

    /// One word: normal, caution or blackout.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Zone::Normal => "normal",
            Zone::Caution => "caution",
            Zone::Blackout => "blackout",
        }
    }

    /// What to tell people there, if anything: full sentences.
    #[must_use]
    pub const fn caution(self) -> Option<&'static str> {
        match self {
            Zone::Normal => None,
            Zone::Caution => Some(
                "Caution zone: this place is near a magnetic pole and the needle is pulled only weakly. Expect large \
                 compass errors.",
            ),
            Zone::Blackout => Some(
                "Blackout zone: this place is so near a magnetic pole that a magnetic compass must not be trusted. Find \
                 your way by other means.",
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bounds_of_the_zones_belong_to_the_better_zone() {
        // CV098: blackout H < 2000 nT; caution 2000 <= H < 6000 nT (WMM technical report).
        assert_eq!(Zone::of_horizontal_nt(0.0), Zone::Blackout);
        assert_eq!(Zone::of_horizontal_nt(1_999.999), Zone::Blackout);
        assert_eq!(Zone::of_horizontal_nt(2_000.0), Zone::Caution);
        assert_eq!(Zone::of_horizontal_nt(5_999.999), Zone::Caution);
        assert_eq!(Zone::of_horizontal_nt(6_000.0), Zone::Normal);
    }

    #[test]
    fn only_the_normal_zone_goes_without_a_caution_and_the_caution_names_its_zone() {
        for zone in Zone::ALL {
            match zone.caution() {
                None => assert_eq!(zone, Zone::Normal),
                Some(words) => assert!(words.to_lowercase().starts_with(zone.word()), "{words}"),
            }
        }
    }
}
