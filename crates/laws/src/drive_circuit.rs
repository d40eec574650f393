//! Pack, controller, motor and driveline at one instant, against a propeller.
//!
//! - Motor `w = k (V_m - I R)`, torque `(I - I0(w)) / k` with constants at their own temperatures
//!   ([`motor_heat`](crate::motor_heat)); an ideal chopper: `V_m + I R_c = d V_p`, pack current `d I` and what
//!   switching and logic take beside ([`controller_loss`](crate::controller_loss)); pack
//!   `V_p = V_s - I_p R_0`. A current limit lowers the duty. The driveline is
//!   [`driveline`](crate::driveline)'s.
//! - The controller does not brake: water that turns the propeller faster than the voltage would turns the
//!   motor against its iron loss only.
//! - Source: the laws named; energy is conserved exactly.
//! - Units: V, A, ohm, rad/s, N m, W.
//! - Valid: steady, and in time as long as the rotor's own inertia settles faster than all else (a few
//!   hundredths of a second). Thrust on the collar is taken from torque by the propeller's own lever.
//! - Checks: the motor law; energy closes.

use crate::controller_loss::{Controller, loss};
use crate::driveline::{CREEP_RAD_S, Driveline};
use crate::motor_heat::WarmMotor;
use crate::motor_point::Motor;

/// Everything between the cells and the propeller at an instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circuit {
    /// Pack at rest less its slow voltage, V.
    pub source_v: f64,
    /// Pack and leads, ohm.
    pub pack_ohm: f64,
    /// Of which leads and connectors, ohm.
    pub lead_ohm: f64,
    /// Controller.
    pub controller: Controller,
    /// Largest motor current the controller allows, A.
    pub limit_a: f64,
    /// Motor.
    pub motor: WarmMotor,
    /// K.
    pub winding_k: f64,
    /// K.
    pub magnets_k: f64,
    /// Motor turns per propeller turn.
    pub gear: f64,
    /// Between motor and propeller.
    pub driveline: Driveline,
    /// Thrust over torque of the propeller, 1/m: for the thrust on the collar.
    pub thrust_per_torque: f64,
}

/// What runs in it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Instant {
    /// Of the propeller, rad/s.
    pub shaft_rad_s: f64,
    /// In the motor, A.
    pub motor_a: f64,
    /// From the pack, A.
    pub pack_a: f64,
    /// At the pack's terminals, V.
    pub pack_v: f64,
    /// Throttle in force: less than asked when the controller limits.
    pub duty: f64,
    /// Power into the propeller, W.
    pub propeller_w: f64,
    /// Torque at the propeller, N m.
    pub torque_n_m: f64,
    /// Heat, W.
    pub copper_w: f64,
    /// W.
    pub iron_w: f64,
    /// W.
    pub controller_w: f64,
    /// In leads and connectors, W.
    pub leads_w: f64,
    /// In the cells by what is felt at once, W.
    pub pack_w: f64,
    /// In driveline and gears, W.
    pub shaft_w: f64,
    /// The controller holds the current down.
    pub limited: bool,
}

/// What a shaft speed and torque ask of the circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Demand {
    /// Duty, 0 to 1; above 1 the drive cannot give it.
    pub throttle: f64,
    /// In the motor, A.
    pub motor_a: f64,
    /// From the pack, A.
    pub pack_a: f64,
    /// At the pack's terminals, V.
    pub pack_v: f64,
    /// W.
    pub motor_heat_w: f64,
    /// At the motor shaft, W.
    pub shaft_power_w: f64,
}

/// Throttle asked for beyond full, for each share of current over the controller's limit: steep, so that a
/// solver that looks for full throttle stops within a hundredth of the limit.
const OVER_LIMIT: f64 = 20.0;

/// Shaft speeds near a known one are found to this share of throttle, in no more steps.
const NEAR_CLOSE: f64 = 1e-5;
const NEAR_STEPS: usize = 12;

impl Circuit {
    /// At a throttle (0 to 1) against a propeller's torque over its speed.
    pub fn run(&self, throttle: f64, torque_n_m: impl Fn(f64) -> f64) -> Instant {
        if throttle < 0.01 {
            return Instant {
                pack_v: self.source_v,
                ..Instant::default()
            };
        }
        // Water may turn the propeller faster than the voltage would.
        let fastest = 3.0 * self.constants(0.0).speed_per_volt_rad_s_v * self.source_v;
        let excess = |w: f64| {
            let shaft = w / self.gear;
            self.propeller_torque_n_m(self.motor_a(w, throttle), shaft) - torque_n_m(shaft)
        };
        let w = zero(excess, 0.0, fastest);
        self.at(w, throttle, torque_n_m(w / self.gear))
    }

    /// As [`Circuit::run`] where it was found for nearly the same torque, and at a part of the work: shaft speed and
    /// how throttle grows with it, from those found before.
    pub fn run_near(
        &self,
        throttle: f64,
        (shaft_rad_s, slope): (f64, f64),
        torque_n_m: impl Fn(f64) -> f64,
    ) -> (f64, f64) {
        let over = |shaft: f64| self.demand(shaft, torque_n_m(shaft)).throttle - throttle;
        let (mut at, mut slope) = (shaft_rad_s, slope);
        let mut left = over(at);
        for _ in 0..NEAR_STEPS {
            if left.abs() < NEAR_CLOSE {
                break;
            }
            let step = (-left / slope).clamp(-0.3 * at.abs(), 0.3 * at.abs());
            let next = over(at + step);
            let found = (next - left) / step;
            // Throttle grows with shaft speed: the other way is a step across a bend.
            slope = if found > 0.2 * slope { found } else { slope };
            (at, left) = (at + step, next);
        }
        (at, slope)
    }

    /// Propeller speed with nothing to turn, rad/s.
    pub fn unloaded_rad_s(&self) -> f64 {
        self.constants(0.0).speed_per_volt_rad_s_v * self.source_v / self.gear
    }

    /// Shaft speed at full throttle against a torque that depends on shaft speed.
    pub fn full_throttle_rad_s(&self, torque_n_m: impl Fn(f64) -> f64) -> f64 {
        self.run(1.0, torque_n_m).shaft_rad_s
    }

    /// Current and throttle for a propeller turning at `shaft_rad_s` against `torque_n_m`.
    pub fn demand(&self, shaft_rad_s: f64, torque_n_m: f64) -> Demand {
        let w = shaft_rad_s * self.gear;
        let motor = self.constants(w);
        let asked = self.line().asked_n_m(torque_n_m, 0.0, shaft_rad_s) / self.gear;
        let motor_a = asked * motor.speed_per_volt_rad_s_v + motor.no_load_current_a;
        let back_v = w / motor.speed_per_volt_rad_s_v;
        let motor_v = back_v + motor_a * (motor.resistance_ohm + self.controller.resistance_ohm);
        let over = (motor_a / self.limit_a - 1.0).max(0.0);
        let throttle = self.needed_duty(motor_a, motor_v) + OVER_LIMIT * over;
        // Past full throttle the pack is shown at full throttle with that motor current.
        let pack_a = self.pack_a(motor_a, throttle.clamp(0.0, 1.0));
        Demand {
            throttle,
            motor_a,
            pack_a,
            pack_v: self.source_v - pack_a * (self.pack_ohm - self.lead_ohm),
            motor_heat_w: motor_a * motor_a * motor.resistance_ohm
                + motor.no_load_current_a * back_v,
            shaft_power_w: asked * w,
        }
    }

    /// Motor current at a motor speed and throttle: what the voltages drive, up to the limit and never
    /// backwards, A.
    pub fn motor_a(&self, motor_rad_s: f64, throttle: f64) -> f64 {
        let motor = self.constants(motor_rad_s);
        let back = motor_rad_s / motor.speed_per_volt_rad_s_v;
        let whole = motor.resistance_ohm
            + self.controller.resistance_ohm
            + throttle * throttle * self.pack_ohm;
        ((throttle * self.source_v - back) / whole.max(1e-9))
            .min(self.limit_a)
            .max(0.0)
    }

    /// Torque left for the propeller at a motor current and the propeller's speed, N m.
    pub fn propeller_torque_n_m(&self, motor_a: f64, shaft_rad_s: f64) -> f64 {
        let motor = self.constants(shaft_rad_s * self.gear);
        let given = (motor_a - motor.no_load_current_a) / motor.speed_per_volt_rad_s_v * self.gear;
        self.line().left_n_m(given, 0.0, shaft_rad_s)
    }

    /// The driveline with thrust put as torque.
    fn line(&self) -> Driveline {
        self.driveline.with_thrust(self.thrust_per_torque)
    }

    /// Motor constants at its temperatures and a motor speed; at a standstill nothing turns it backwards.
    pub fn constants(&self, motor_rad_s: f64) -> Motor {
        let motor = self.motor.at(self.winding_k, self.magnets_k, motor_rad_s);
        Motor {
            no_load_current_a: motor.no_load_current_a * (motor_rad_s / CREEP_RAD_S).tanh(),
            ..motor
        }
    }

    /// From the pack, switching and idle losses included, A.
    fn pack_a(&self, motor_a: f64, duty: f64) -> f64 {
        let bridge = loss(&self.controller, motor_a, self.source_v, duty);
        let beside_w = bridge.total_w - motor_a * motor_a * self.controller.resistance_ohm;
        duty * motor_a + beside_w / self.source_v.max(1.0)
    }

    fn at(&self, w: f64, throttle: f64, torque_n_m: f64) -> Instant {
        let motor = self.constants(w);
        let motor_a = self.motor_a(w, throttle);
        let back = w / motor.speed_per_volt_rad_s_v;
        let needed = back + motor_a * (motor.resistance_ohm + self.controller.resistance_ohm);
        let limited = motor_a >= self.limit_a;
        let duty = if limited {
            self.needed_duty(motor_a, needed).min(throttle)
        } else {
            throttle
        };
        let pack_a = self.pack_a(motor_a, duty);
        let propeller_w = torque_n_m * w / self.gear;
        let leads_w = pack_a * pack_a * self.lead_ohm;
        let drawn = pack_a * (self.source_v - pack_a * self.pack_ohm);
        let copper_w = motor_a * motor_a * motor.resistance_ohm;
        let iron_w = motor.no_load_current_a * back;
        let motor_w = motor_a * back - iron_w;
        let shaft_w = motor_w - propeller_w;
        Instant {
            shaft_rad_s: w / self.gear,
            motor_a,
            pack_a,
            pack_v: self.source_v - pack_a * (self.pack_ohm - self.lead_ohm),
            duty,
            propeller_w,
            torque_n_m,
            copper_w,
            iron_w,
            // Whatever is drawn and turns up nowhere else warms the controller.
            controller_w: drawn - copper_w - iron_w - shaft_w - propeller_w,
            leads_w,
            pack_w: pack_a * pack_a * (self.pack_ohm - self.lead_ohm),
            shaft_w,
            limited,
        }
    }

    /// Duty at which the sagging pack gives a voltage: `d V - d^2 I R = V_m`; past one and growing where the
    /// pack cannot, so that solvers see a slope.
    fn needed_duty(&self, motor_a: f64, motor_v: f64) -> f64 {
        let source = self.source_v.max(1e-9);
        let sag_v = motor_a * self.pack_ohm;
        let at_full_v = source - sag_v;
        if motor_v >= at_full_v {
            return 1.0 + (motor_v - at_full_v) / source;
        }
        if sag_v.abs() < 1e-9 {
            return motor_v / source;
        }
        let root = source.powi(2) - 4.0 * sag_v * motor_v;
        (source - root.max(0.0).sqrt()) / (2.0 * sag_v)
    }
}
/// Where a falling function crosses zero between two ends; an end when it does not.
fn zero(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let (mut f_low, mut f_high) = (f(low), f(high));
    if f_low <= 0.0 {
        return low;
    }
    if f_high >= 0.0 {
        return high;
    }
    let tolerance = 1e-10 * (high - low);
    let mut side = 0;
    for _ in 0..100 {
        let middle = (low * f_high - high * f_low) / (f_high - f_low);
        let value = f(middle);
        if value == 0.0 || high - low < tolerance {
            return middle;
        }
        if value > 0.0 {
            (low, f_low) = (middle, value);
            if side == 1 {
                f_high *= 0.5;
            }
            side = 1;
        } else {
            (high, f_high) = (middle, value);
            if side == -1 {
                f_low *= 0.5;
            }
            side = -1;
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motor_point::{Known, motor_point, speed_per_volt};

    fn circuit() -> Circuit {
        let cold = Motor {
            speed_per_volt_rad_s_v: speed_per_volt(2000.0),
            resistance_ohm: 0.01,
            no_load_current_a: 3.0,
        };
        Circuit {
            source_v: 15.6,
            pack_ohm: 0.009,
            lead_ohm: 0.001,
            controller: Controller {
                resistance_ohm: 0.002,
                diode_v: 0.0,
                edge_s: 2e-7,
                frequency_hz: 16e3,
                idle_w: 0.5,
            },
            limit_a: 1e9,
            motor: WarmMotor::new(cold, 3000.0, 1.0).unwrap(),
            winding_k: 293.15,
            magnets_k: 293.15,
            gear: 1.0,
            driveline: Driveline::passing(0.95).unwrap(),
            thrust_per_torque: 60.0,
        }
    }

    #[test]
    fn from_a_known_shaft_speed_it_finds_the_same() {
        let c = circuit();
        let known = c.run(0.8, |w| 3.5e-8 * w * w).shaft_rad_s;
        for (throttle, load) in [
            (0.8, 3.5e-8),
            (0.8, 2.5e-8),
            (0.8, 5e-8),
            (0.6, 3.5e-8),
            (1.0, 4e-8),
        ] {
            let torque = |w: f64| load * w * w;
            let near = c
                .run_near(throttle, (known, 2.0 * throttle / known), torque)
                .0;
            let told = c.run(throttle, torque).shaft_rad_s;
            assert!(
                (near / told - 1.0).abs() < 1e-4,
                "{throttle} {load}: {near} {told}"
            );
        }
    }

    #[test]
    fn agrees_with_the_motor_law_and_closes_its_power() {
        let c = circuit();
        let load = |w: f64| 3.5e-8 * w * w;
        let i = c.run(1.0, load);
        let volts = c.source_v - i.motor_a * (c.pack_ohm + c.controller.resistance_ohm);
        let motor = c.constants(i.shaft_rad_s);
        let p = motor_point(&motor, volts, Known::Current(i.motor_a)).unwrap();
        assert!((p.shaft_speed_rad_s / i.shaft_rad_s - 1.0).abs() < 1e-8);
        assert!((p.torque_n_m * 0.95 / load(i.shaft_rad_s) - 1.0).abs() < 1e-6);
        let all = i.copper_w + i.iron_w + i.controller_w + i.leads_w + i.pack_w + i.shaft_w;
        assert!((all + i.propeller_w - i.pack_a * c.source_v).abs() < 1e-9 * all);
        assert!(i.controller_w > 0.0);
    }

    #[test]
    fn demand_and_run_are_one_circuit() {
        let line = Driveline {
            share: 0.04,
            by_thrust_m: 4e-4,
            by_speed_n_m_s: 1e-6,
            still_n_m: 1e-3,
        };
        for limit_a in [1e9, 60.0] {
            let c = Circuit {
                driveline: line,
                limit_a,
                winding_k: 353.0,
                ..circuit()
            };
            let load = |w: f64| 3.5e-8 * w * w;
            let i = c.run(1.0, load);
            let d = c.demand(i.shaft_rad_s, load(i.shaft_rad_s));
            assert!((d.motor_a / i.motor_a - 1.0).abs() < 1e-6);
            if i.limited {
                assert!(d.throttle < 1.0);
                assert!(
                    c.demand(1.01 * i.shaft_rad_s, load(1.01 * i.shaft_rad_s))
                        .throttle
                        > 1.0
                );
            } else {
                assert!((d.throttle - 1.0).abs() < 1e-6, "{}", d.throttle);
                assert!((d.pack_a / i.pack_a - 1.0).abs() < 1e-6);
                assert!((d.pack_v / i.pack_v - 1.0).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn turned_by_the_water_it_warms_only_its_iron() {
        let c = circuit();
        // Pushes the motor on until it turns faster than half throttle would.
        let i = c.run(0.5, |w| 1e-4 * (w - 3000.0));
        assert_eq!(i.motor_a, 0.0);
        assert!(i.propeller_w < 0.0 && i.iron_w > 0.0);
        assert!((i.iron_w + i.propeller_w + i.shaft_w).abs() < 1e-9);
        assert!((i.controller_w - c.controller.idle_w).abs() < 0.01);
    }

    #[test]
    fn a_limit_holds_the_current_and_lowers_the_duty() {
        let c = Circuit {
            limit_a: 40.0,
            ..circuit()
        };
        let i = c.run(1.0, |w| 3.5e-8 * w * w);
        assert!(i.limited && (i.motor_a - 40.0).abs() < 1e-9 && i.duty < 1.0);
        assert!(!circuit().run(1.0, |w| 3.5e-8 * w * w).limited);
        let shut = c.run(0.0, |w| 3.5e-8 * w * w);
        assert_eq!((shut.motor_a, shut.pack_v), (0.0, 15.6));
    }
}
