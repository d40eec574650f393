//! What each quantity is, for whom it holds and what it rests on: `docs/quantities.md` is written from here.

use super::Quantity;

/// One quantity's one meaning, the same at every face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Definition {
    /// In formulas.
    pub symbol: &'static str,
    /// When and where it is meant.
    pub condition: &'static str,
    /// The functions and laws behind it.
    pub rests_on: &'static str,
}

const AT_REST: &str = "at rest in still water";
const AT_TOP: &str = "at top speed";

impl Quantity {
    /// What it means.
    pub const fn definition(self) -> Definition {
        let (symbol, condition, rests_on) = match self {
            Self::Mass => (
                "m",
                "ready to run, pack in",
                "`craft::mass`: shell and parts added up",
            ),
            Self::BalanceX => (
                "x_G",
                "ready to run, ahead of the transom's bottom edge",
                "`craft::mass`",
            ),
            Self::RestTrim => (
                "theta_0",
                AT_REST,
                "`craft::rest`: weight and buoyancy in line",
            ),
            Self::RestHeel => ("phi_0", AT_REST, "`craft::rest`"),
            Self::Freeboard => (
                "f",
                "at rest, from the water up to the lowest opening or rim",
                "`craft::rest`",
            ),
            Self::HumpMargin => (
                "T/D - 1",
                "full throttle, the least between a third of planing speed and planing speed, the propeller drawing air where its law says so",
                "`craft::curve`: thrust to be had over thrust needed on the way up",
            ),
            Self::HumpCurrent => (
                "I_h",
                "full throttle from rest, opened as quickly as it stays upright: the largest mean over a second, from the pack, hardest-worked drive",
                "`motion::launch`: the run in time; where that goes over, the propeller wide open at the hump's attitude",
            ),
            Self::PlaningSpeed => (
                "V_p",
                "on the way up, where lift that comes from speed first carries half the weight",
                "`craft::curve`, interpolated between states",
            ),
            Self::TopSpeed => (
                "V",
                "full throttle at the charge and cell temperature in the boat file (assumed: fresh, the first half minute from full), declared water and wind",
                "`craft::curve`: thrust against drag, solved for directly; where the boat does not stay there, `motion::settled`: the mean of the run in time",
            ),
            Self::TopTrim => ("theta", AT_TOP, "`craft::curve`"),
            Self::TopCurrent => (
                "I",
                "at top speed, from the pack, hardest-worked drive",
                "`craft::drive`: torque through motor, controller and pack",
            ),
            Self::TopPower => (
                "P",
                "at top speed, at the motor shafts, all drives",
                "`craft::drive`",
            ),
            Self::TopShaftSpeed => ("n", "at top speed, of the propeller", "`craft::curve`"),
            Self::Slip => (
                "s",
                "at top speed, against pitch times turns",
                "`craft::curve`: 1 - V / (p n)",
            ),
            Self::Immersion => (
                "h/D",
                "at top speed, the disc's lowest point below the water over its diameter",
                "`craft::curve`",
            ),
            Self::DynamicShare => (
                "L/W",
                "at top speed, lift that comes from speed over all lift of the bottom",
                "`craft::curve`",
            ),
            Self::PorpoisingMargin => (
                "d theta",
                "vee bottoms, at the speed on the curve where it is least",
                "`study::porpoising`: Day and Haag 1952 as in Savitsky 1964",
            ),
            Self::LateTopSpeed => (
                "V_late",
                "full throttle when a fifth of the charge is left, cells and motor as warm as the run has made them",
                "`study::stint`: the run in time",
            ),
            Self::RunTime => (
                "t",
                "full throttle from full and cold until a fifth of the charge is left, the shortest of the packs",
                "`study::stint`: the run in time",
            ),
            Self::Hottest => (
                "T_max",
                "the same run and two minutes after it, the part nearest its limit",
                "`study::stint`: the run in time with heat, water and air",
            ),
            Self::FlightMargin => (
                "d theta_f",
                "the worst speed between planing and top speed, in a gust of 5 m/s: how much higher its bow may rise than it runs",
                "`motion::flight`: pitch between running and the unstable airborne state",
            ),
            Self::TightestTurn => (
                "R",
                "radius from three fifths of top speed, throttle held, flat water, the rudder put over as fast as its servo does, further and further as long as it stays upright, planes and goes on round; the tighter side",
                "`motion::turning`: the run in time, begun from the held course; the hull's hold sideways within a third",
            ),
        };
        Definition {
            symbol,
            condition,
            rests_on,
        }
    }
}
