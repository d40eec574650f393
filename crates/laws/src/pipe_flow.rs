//! Flow through a round tube with fittings.
//!
//! - `dp = rho V^2 / 2 (f L / D + K)`; `f = 64 / Re` below Re 2300, above 4000 Colebrook's
//!   `1 / sqrt f = -2 log10(e / (3.7 D) + 2.51 / (Re sqrt f))`, straight between the two in Re.
//! - Source: Hagen 1839, Poiseuille 1840; Colebrook 1939; the blend between is ours.
//! - Units: m, Pa, m3/s, Pa s, kg/m3; `f` is Darcy's (four times Fanning's).
//! - Valid: full tube of one liquid, fully developed; Re 2300 to 4000 is uncertain by itself.
//!   An elbow is about K 1, a sharp entry 0.5, an outlet 1 (handbook values, from memory).
//! - Checks: `checks/worked_examples.csv` (Cengel and Cimbala, example 8-3); laminar closed form.

use crate::input::{InputError, not_negative, positive};
use crate::notes::Notes;
use crate::smooth::mix;
use std::f64::consts::PI;

const LAMINAR: f64 = 2300.0;
const TURBULENT: f64 = 4000.0;

/// A tube and what is in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pipe {
    /// Bore, m.
    pub diameter_m: f64,
    /// m.
    pub length_m: f64,
    /// Height of the wall's roughness, m.
    pub roughness_m: f64,
    /// Sum of the fittings' loss coefficients on this bore.
    pub fittings_k: f64,
    /// kg/m3.
    pub density_kg_m3: f64,
    /// Pa s.
    pub viscosity_pa_s: f64,
}

/// What is known beside the tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Known {
    /// m3/s.
    Flow(f64),
    /// Pa.
    PressureDrop(f64),
}

/// Flow in a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipeFlow {
    /// Reynolds number on the bore.
    pub reynolds: f64,
    /// Darcy friction factor; 0 with no flow.
    pub friction_factor: f64,
    /// m/s.
    pub velocity_m_s: f64,
    /// Pa.
    pub pressure_drop_pa: f64,
    /// m3/s.
    pub flow_m3_s: f64,
    /// Outside the uncertain band between laminar and turbulent.
    pub in_range: bool,
    /// Why not.
    pub notes: Notes,
}

/// Flow or pressure drop, whichever is not given.
///
/// # Errors
/// [`InputError`] for a bore, density or viscosity not above zero or a negative number elsewhere.
pub fn pipe_flow(pipe: &Pipe, known: Known) -> Result<PipeFlow, InputError> {
    positive("diameter", pipe.diameter_m)?;
    not_negative("length", pipe.length_m)?;
    not_negative("roughness", pipe.roughness_m)?;
    not_negative("fittings_k", pipe.fittings_k)?;
    positive("density", pipe.density_kg_m3)?;
    positive("viscosity", pipe.viscosity_pa_s)?;
    let area = 0.25 * PI * pipe.diameter_m.powi(2);
    let velocity = match known {
        Known::Flow(q) => not_negative("flow", q)? / area,
        Known::PressureDrop(p) => velocity(pipe, not_negative("pressure_drop", p)?),
    };
    Ok(state(pipe, velocity, area))
}

fn state(pipe: &Pipe, velocity: f64, area: f64) -> PipeFlow {
    let reynolds = pipe.density_kg_m3 * velocity * pipe.diameter_m / pipe.viscosity_pa_s;
    let mut notes = Notes::default();
    let out = notes.add_if(
        reynolds > LAMINAR && reynolds < TURBULENT,
        "between laminar and turbulent: the friction is uncertain by itself",
    ) | notes.add_if(
        pipe.roughness_m > 0.05 * pipe.diameter_m,
        "roughness over a twentieth of the bore",
    );
    PipeFlow {
        reynolds,
        friction_factor: if reynolds > 0.0 {
            friction_factor(reynolds, pipe.roughness_m / pipe.diameter_m)
        } else {
            0.0
        },
        velocity_m_s: velocity,
        pressure_drop_pa: drop_pa(pipe, velocity),
        flow_m3_s: velocity * area,
        in_range: !out,
        notes,
    }
}

/// Darcy friction factor.
pub fn friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds <= LAMINAR {
        return 64.0 / reynolds;
    }
    if reynolds >= TURBULENT {
        return colebrook(reynolds, relative_roughness);
    }
    let share = (reynolds - LAMINAR) / (TURBULENT - LAMINAR);
    mix(
        64.0 / LAMINAR,
        colebrook(TURBULENT, relative_roughness),
        share,
    )
}

/// Fixed-point iteration on `1 / sqrt f`; each round gains a digit or more.
fn colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    let rough = relative_roughness / 3.7;
    // Rougher than the law can take: held where it still has an answer.
    let rough = rough.min(0.3);
    let mut inverse_root = 7.0;
    for _ in 0..14 {
        inverse_root = (-2.0 * (rough + 2.51 * inverse_root / reynolds).log10()).max(0.5);
    }
    inverse_root.powi(-2)
}

fn drop_pa(pipe: &Pipe, velocity: f64) -> f64 {
    if velocity <= 0.0 {
        return 0.0;
    }
    let reynolds = pipe.density_kg_m3 * velocity * pipe.diameter_m / pipe.viscosity_pa_s;
    let friction = friction_factor(reynolds, pipe.roughness_m / pipe.diameter_m);
    let losses = friction * pipe.length_m / pipe.diameter_m + pipe.fittings_k;
    0.5 * pipe.density_kg_m3 * velocity.powi(2) * losses
}

/// Pressure drop rises with speed all the way, so halving an interval finds the one answer.
fn velocity(pipe: &Pipe, pressure_pa: f64) -> f64 {
    if pressure_pa <= 0.0 || (pipe.length_m == 0.0 && pipe.fittings_k == 0.0) {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    while drop_pa(pipe, high) < pressure_pa && high < 1e12 {
        low = high;
        high *= 4.0;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if drop_pa(pipe, middle) < pressure_pa {
            low = middle;
        } else {
            high = middle;
        }
        if high - low <= 1e-12 * high {
            break;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{Table, relative};

    fn tube() -> Pipe {
        Pipe {
            diameter_m: 0.003,
            length_m: 0.6,
            roughness_m: 1.5e-6,
            fittings_k: 4.0,
            density_kg_m3: 998.0,
            viscosity_pa_s: 1e-3,
        }
    }

    #[test]
    fn agrees_with_the_worked_example() {
        let t = Table::read(include_str!("../../../checks/worked_examples.csv"));
        let value = |quantity: &str| {
            (0..t.len())
                .find(|r| {
                    t.text(*r, "case") == "pipe_colebrook_si" && t.text(*r, "quantity") == quantity
                })
                .map(|r| t.number(r, "value"))
                .unwrap()
        };
        let pipe = Pipe {
            diameter_m: value("D"),
            length_m: value("L"),
            roughness_m: value("roughness"),
            fittings_k: 0.0,
            density_kg_m3: value("rho"),
            viscosity_pa_s: value("mu"),
        };
        let p = pipe_flow(&pipe, Known::Flow(value("Q"))).unwrap();
        assert!(relative(p.reynolds, value("Re")) < 1e-5);
        assert!(relative(p.friction_factor, value("f_colebrook")) < 1e-5);
        assert!(relative(p.pressure_drop_pa, value("dp")) < 1e-5);
        let back = pipe_flow(&pipe, Known::PressureDrop(p.pressure_drop_pa)).unwrap();
        assert!(relative(back.flow_m3_s, value("Q")) < 1e-9);
    }

    #[test]
    fn laminar_flow_is_poiseuilles() {
        let pipe = Pipe {
            fittings_k: 0.0,
            ..tube()
        };
        let q = 2e-6;
        let p = pipe_flow(&pipe, Known::Flow(q)).unwrap();
        let exact = 128.0 * pipe.viscosity_pa_s * pipe.length_m * q / (PI * 0.003f64.powi(4));
        assert!(p.reynolds < LAMINAR && relative(p.pressure_drop_pa, exact) < 1e-12);
    }

    #[test]
    fn flow_rises_with_pressure_without_a_jump() {
        let at = |p: f64| {
            pipe_flow(&tube(), Known::PressureDrop(p))
                .unwrap()
                .flow_m3_s
        };
        let mut last = 0.0;
        for i in 1..400 {
            let q = at(f64::from(i) * 50.0);
            assert!(q > last && q - last < 0.2 * q.max(2e-6));
            last = q;
        }
    }

    #[test]
    fn still_water_and_bad_bores() {
        let p = pipe_flow(&tube(), Known::Flow(0.0)).unwrap();
        assert_eq!((p.pressure_drop_pa, p.friction_factor), (0.0, 0.0));
        let none = Pipe {
            diameter_m: 0.0,
            ..tube()
        };
        assert!(pipe_flow(&none, Known::Flow(1.0)).is_err());
    }
}
