//! Why a boat has no steady top speed, in plain words.

/// No steady state at full throttle.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum Unsteady {
    /// Too fast for one attitude and too slow for the next.
    #[error(
        "at {speed_km_h:.0} km/h its attitude changes at once, and full throttle holds that speed before it but not after it",
        speed_km_h = 3.6 * .speed_m_s
    )]
    BackAndForth {
        /// Where, m/s.
        speed_m_s: f64,
        /// Trim before and after, rad.
        trim_rad: (f64, f64),
    },
    /// The last steady attitude is left with thrust to spare.
    #[error(
        "beyond {speed_km_h:.0} km/h no attitude is steady, and full throttle still has {spare_n:.1} N to spare there",
        speed_km_h = 3.6 * .speed_m_s
    )]
    NoAttitude {
        /// Where the last one is, m/s.
        speed_m_s: f64,
        /// Thrust available less needed there, N.
        spare_n: f64,
    },
    /// The air and the propellers carry it before full throttle is reached.
    #[error(
        "beyond {speed_km_h:.0} km/h the air and the propellers carry it, and its hull leaves the water",
        speed_km_h = 3.6 * .speed_m_s
    )]
    TakesOff {
        /// Where, m/s.
        speed_m_s: f64,
    },
    /// Forces balance there, but a boat that is let go there goes on to something else.
    #[error(
        "at {speed_km_h:.0} km/h its forces balance, but it does not stay there",
        speed_km_h = 3.6 * .speed_m_s
    )]
    Left {
        /// Where they balance, m/s.
        speed_m_s: f64,
    },
}

impl Unsteady {
    /// Where steady running ends, m/s.
    pub fn speed_m_s(&self) -> f64 {
        match self {
            Self::BackAndForth { speed_m_s, .. }
            | Self::NoAttitude { speed_m_s, .. }
            | Self::TakesOff { speed_m_s }
            | Self::Left { speed_m_s } => *speed_m_s,
        }
    }
}

/// Why it does not run.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CannotRun {
    /// Nothing to drive it.
    #[error("the boat has no drive")]
    NoDrive,
    /// Nothing in the water turns.
    #[error(
        "the propeller is out of the water at rest: its lowest tip stands {clear_mm:.0} mm above it",
        clear_mm = 1e3 * .clear_m
    )]
    PropellerDry {
        /// Height of the lowest tip above the water, m.
        clear_m: f64,
    },
    /// Not even slow ahead.
    #[error(
        "at full throttle and at rest the propeller gives {thrust_n:.2} N, and the wind pushes back with {against_n:.2} N"
    )]
    HeldByWind {
        /// N.
        thrust_n: f64,
        /// N.
        against_n: f64,
    },
    /// Not even slow ahead, against the water.
    #[error(
        "even at {speed_km_h:.1} km/h full throttle lacks {lacking_n:.2} N",
        speed_km_h = 3.6 * .speed_m_s
    )]
    TooWeak {
        /// m/s.
        speed_m_s: f64,
        /// Thrust needed less available, N.
        lacking_n: f64,
    },
    /// The wind lifts it before it moves.
    #[error("a headwind of {wind_m_s:.0} m/s lifts or turns it over before it runs")]
    BlownOver {
        /// m/s.
        wind_m_s: f64,
    },
    /// The propeller's pull upsets it.
    #[error("afloat and slow it finds no attitude in which its forces balance")]
    NoAttitude,
}
