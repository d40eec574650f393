//! How far the laws themselves may be off: multipliers every element takes, with their spread.
//!
//! Nominal is 1 (0 for `friction`, a place in the friction band, and `launch_torque`, a power of two). Evidence from the water corrects
//! them; sampling over their spread gives the bands around every prediction.

/// Multipliers on the laws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    /// Place in the friction band: -1 laminar, 0 middle, 1 turbulent.
    pub friction: f64,
    /// On planing lift.
    pub planing_lift: f64,
    /// On the hydrostatic share kept at speed.
    pub buoyancy_share: f64,
    /// On wave drag below the hump.
    pub wave_drag: f64,
    /// On propeller thrust.
    pub thrust: f64,
    /// On propeller torque.
    pub torque: f64,
    /// On torque at low advance: twice it at 1, half at -1.
    pub launch_torque: f64,
    /// On the propeller's vertical and side force.
    pub propeller_lift: f64,
    /// On the propeller's pull on the bottom ahead of it.
    pub suction: f64,
    /// On what cable, collar and bushes lose.
    pub driveline: f64,
    /// On air drag.
    pub air_drag: f64,
    /// On air lift.
    pub air_lift: f64,
    /// On rudder, fin and strut drag.
    pub appendage_drag: f64,
}

impl Default for Factors {
    fn default() -> Self {
        Self {
            friction: 0.0,
            planing_lift: 1.0,
            buoyancy_share: 1.0,
            wave_drag: 1.0,
            thrust: 1.0,
            torque: 1.0,
            launch_torque: 0.0,
            propeller_lift: 1.0,
            suction: 1.0,
            driveline: 1.0,
            air_drag: 1.0,
            air_lift: 1.0,
            appendage_drag: 1.0,
        }
    }
}

/// A factor as sampling and fitting see it.
pub struct FactorInfo {
    /// What a builder would call it.
    pub name: &'static str,
    /// 95 % half-width before any evidence.
    pub spread: f64,
    /// Why that wide.
    pub basis: &'static str,
    /// Reach it in a set of factors.
    pub of: fn(&mut Factors) -> &mut f64,
}

/// Every factor with its prior spread.
pub const FACTORS: [FactorInfo; 13] = [
    FactorInfo {
        name: "friction between laminar and turbulent",
        spread: 1.0,
        basis: "the whole band: at these sizes neither end can be ruled out",
        of: |f| &mut f.friction,
    },
    FactorInfo {
        name: "planing lift",
        spread: 0.15,
        basis: "scatter of tank data about the 1964 fit, widened beyond its range",
        of: |f| &mut f.planing_lift,
    },
    FactorInfo {
        name: "buoyancy kept at speed",
        spread: 0.2,
        basis: "our blend from rest to planing, not measured",
        of: |f| &mut f.buoyancy_share,
    },
    FactorInfo {
        name: "wave drag below planing",
        spread: 0.3,
        basis: "series of round-bilge and slender hulls used for other shapes",
        of: |f| &mut f.wave_drag,
    },
    FactorInfo {
        name: "propeller thrust",
        spread: 0.25,
        basis: "small ventilated propellers against published series",
        of: |f| &mut f.thrust,
    },
    FactorInfo {
        name: "propeller torque",
        spread: 0.25,
        basis: "small ventilated propellers against published series",
        of: |f| &mut f.torque,
    },
    FactorInfo {
        name: "propeller torque at launch",
        spread: 1.0,
        basis: "a factor of two either way: covered, cavitating or drawing air it differs as much",
        of: |f| &mut f.launch_torque,
    },
    FactorInfo {
        name: "propeller's vertical force",
        spread: 0.6,
        basis: "0.15 to 0.5 of thrust in theory, unmeasured at this size",
        of: |f| &mut f.propeller_lift,
    },
    FactorInfo {
        name: "propeller's pull on the bottom",
        spread: 0.5,
        basis: "sinks for a disc and half a free surface, unmeasured",
        of: |f| &mut f.suction,
    },
    FactorInfo {
        name: "driveline losses",
        spread: 0.5,
        basis: "cables pass 85 to 95 % by the trade, shear and friction worked out",
        of: |f| &mut f.driveline,
    },
    FactorInfo {
        name: "air drag",
        spread: 0.4,
        basis: "bluff-body table values for a hull nobody put in a tunnel",
        of: |f| &mut f.air_drag,
    },
    FactorInfo {
        name: "air lift",
        spread: 0.4,
        basis: "low-aspect-ratio wing standing in for a hull",
        of: |f| &mut f.air_lift,
    },
    FactorInfo {
        name: "rudder, fin and strut drag",
        spread: 0.3,
        basis: "handbook sections at higher Reynolds numbers",
        of: |f| &mut f.appendage_drag,
    },
];
