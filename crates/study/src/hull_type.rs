//! Which of the four hull types a boat is, for the trade's rules of thumb.

use boat::starter::Starter;
use boat::{Boat, HullSource};
use form::{Form, Side};

/// Hull type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HullType {
    /// Two sponsons ahead, propeller behind.
    ThreePoint,
    /// A narrow tub with sponsons on booms.
    Outrigger,
    /// A single vee bottom.
    Vee,
    /// Two slender hulls with a tunnel between.
    Catamaran,
    /// None of these.
    Other,
}

impl HullType {
    /// As declared for a starter hull, else from where the running surfaces lie.
    pub fn of(boat: &Boat, form: &Form) -> Self {
        match &boat.hull.source {
            HullSource::Starter(Starter::ThreePoint(_)) => Self::ThreePoint,
            HullSource::Starter(Starter::Outrigger(_)) => Self::Outrigger,
            HullSource::Starter(Starter::Vee(_)) => Self::Vee,
            HullSource::Starter(Starter::Catamaran(_)) => Self::Catamaran,
            HullSource::Mesh(_) => Self::seen(form),
        }
    }

    /// From where the running surfaces lie.
    pub fn seen(form: &Form) -> Self {
        let paired = |step: bool| {
            let on = |side| {
                let mut surfaces = form.surfaces.iter();
                surfaces.any(|s| s.side == side && s.step == step)
            };
            on(Side::Port) && on(Side::Starboard)
        };
        if paired(true) {
            // Booms leave daylight between tub and sponsons: from above the hull fills its box less.
            let outline = &form.outline;
            let filled = outline.plan_area_m2 / (outline.length_m * outline.beam_m).max(1e-9);
            return if filled < 0.5 {
                Self::Outrigger
            } else {
                Self::ThreePoint
            };
        }
        if paired(false) {
            return Self::Catamaran;
        }
        let vee = |s: &form::RunningSurface| {
            s.side == Side::Centre && s.deadrise_rad.value.to_degrees() > 8.0
        };
        if form.surfaces.iter().any(vee) {
            Self::Vee
        } else {
            Self::Other
        }
    }

    /// What a builder calls it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::ThreePoint => "three-point",
            Self::Outrigger => "outrigger",
            Self::Vee => "vee",
            Self::Catamaran => "catamaran",
            Self::Other => "hull",
        }
    }

    /// Slip of a well-set boat and the slip above which something is wrong. Common practice.
    pub const fn slip(self) -> Option<(f64, f64, f64)> {
        match self {
            Self::ThreePoint => Some((0.10, 0.20, 0.25)),
            Self::Outrigger => Some((0.08, 0.15, 0.22)),
            Self::Vee => Some((0.18, 0.30, 0.35)),
            Self::Catamaran => Some((0.12, 0.20, 0.25)),
            Self::Other => None,
        }
    }

    /// Least usual freeboard at rest, m. Common practice; an outrigger's tub sits just wet.
    pub const fn freeboard_m(self) -> f64 {
        match self {
            Self::ThreePoint => 0.025,
            Self::Vee | Self::Catamaran => 0.035,
            Self::Outrigger | Self::Other => 0.015,
        }
    }
}
