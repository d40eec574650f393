//! A boat that has been checked: what every later room works from.
//!
//! Metres, kilograms, seconds, radians, volts, amperes, ohms, newtons; temperatures in degrees
//! Celsius. Axes: origin where the transom's bottom edge meets the centreline, x forward, y to
//! port, z up. Positive trim is bow up, positive heel is starboard down.

use crate::measure::Measure;
use crate::starter::Starter;

/// A point in boat axes, m, each coordinate with its own spread.
pub type Place = [Measure; 3];

/// Everything the builder declared, complete: defaults are filled in and marked as assumed.
#[derive(Debug, Clone, PartialEq)]
pub struct Boat {
    /// The builder's name for it.
    pub name: String,
    /// What everything told of it is shown in.
    pub units: crate::Units,
    /// What the builder asks of it; findings compare against these.
    pub wishes: Wishes,
    /// The water it will run on.
    pub water: Water,
    /// The air it will run in.
    pub air: Air,
    /// Shape and shell.
    pub hull: Hull,
    /// Everything carried that is not the shell, each with mass and position.
    pub parts: Vec<Part>,
    /// One per propeller.
    pub drives: Vec<Drive>,
    /// Rudders.
    pub rudders: Vec<Blade>,
    /// Turn fins and skegs.
    pub fins: Vec<Blade>,
    /// Trim tabs.
    pub tabs: Vec<Tab>,
    /// Wings that carry air load.
    pub wings: Vec<Wing>,
    /// Foam and sealed voids: what floats it when the inside is full of water.
    pub floats: Vec<FloatAid>,
    /// Where water gets in: hatch rims, rudder boxes, cooling outlets.
    pub openings: Vec<Opening>,
    /// How the hull is made.
    pub making: crate::making::Making,
}

/// What the builder asks of the boat. Absent means no opinion.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wishes {
    /// Top speed, m/s.
    pub speed_m_s: Option<f64>,
    /// Full-throttle run time, s.
    pub run_time_s: Option<f64>,
    /// Fewest metres of freeboard wanted at rest.
    pub freeboard_m: Option<f64>,
}

/// Fresh water at a temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    /// degC.
    pub temperature_c: Measure,
    /// Mean of the highest third of the waves, trough to crest, m; 0 is a mirror.
    pub ripple_m: Measure,
}

/// Air and wind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// degC.
    pub temperature_c: Measure,
    /// Headwind along the course, m/s; negative is a tailwind.
    pub headwind_m_s: Measure,
}

/// The hull: where its shape comes from and what its shell is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Hull {
    /// Mesh files or a starter hull.
    pub source: HullSource,
    /// How it will be printed; predicts the shell's mass when it has not been weighed.
    pub print: Print,
    /// The shell on a scale, replacing the prediction.
    pub weighed: Option<Weighed>,
    /// What was measured on the printed running surfaces.
    pub running: Vec<RunningOverride>,
    /// Radius of the running surfaces' trailing edges; a sharp edge is 0. m.
    pub edge_radius_m: Measure,
    /// What was done to the bottom's outside.
    pub finish: Finish,
    /// Equivalent sand roughness of the bottom, m; from the finish unless given.
    pub roughness_m: Measure,
}

/// What was done to the outside of the bottom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Finish {
    /// As it left the printer, layer lines across the flow.
    PrintedAcross,
    /// As it left the printer, layer lines along the flow.
    PrintedAlong,
    /// Layer lines filled and sanded away.
    Sanded,
    /// Sanded and painted or coated.
    Painted,
    /// Wet-sanded fine and polished.
    Polished,
}

/// Where the shape comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum HullSource {
    /// One or more files, read as one hull.
    Mesh(Vec<MeshFile>),
    /// One of our parametric hulls.
    Starter(Starter),
}

/// A mesh file as declared; absent hints are found from the shape.
#[derive(Debug, Clone, PartialEq)]
pub struct MeshFile {
    /// Path relative to the boat folder, inside it.
    pub path: String,
    /// Metres per file unit.
    pub unit_m: Option<f64>,
    /// Which file axis points to the bow.
    pub forward: Option<Axis>,
    /// Which file axis points up.
    pub up: Option<Axis>,
}

/// A signed coordinate axis of a mesh file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Axis {
    PlusX,
    MinusX,
    PlusY,
    MinusY,
    PlusZ,
    MinusZ,
}

impl Axis {
    /// Of a word of the boat file: `+x`.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Axis> {
        Some(match word {
            "+x" => Axis::PlusX,
            "-x" => Axis::MinusX,
            "+y" => Axis::PlusY,
            "-y" => Axis::MinusY,
            "+z" => Axis::PlusZ,
            "-z" => Axis::MinusZ,
            _ => return None,
        })
    }

    /// As written in the boat file: `+x`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Axis::PlusX => "+x",
            Axis::MinusX => "-x",
            Axis::PlusY => "+y",
            Axis::MinusY => "-y",
            Axis::PlusZ => "+z",
            Axis::MinusZ => "-z",
        }
    }
}

/// Printed shell.
#[derive(Debug, Clone, PartialEq)]
pub struct Print {
    /// Name of the plastic, e.g. `PETG`.
    pub material: String,
    /// Density of the solid plastic, kg/m3.
    pub density_kg_m3: Measure,
    /// Total thickness of side and bottom walls (all perimeters together), m.
    pub wall_m: Measure,
    /// Thickness of solid top and bottom layers, m.
    pub top_bottom_m: Measure,
    /// Infill fraction of the space between walls when the mesh is a solid, 0 to 1.
    pub infill: Measure,
    /// Whether the print is hollow behind its walls (a shell) rather than filled with `infill`.
    pub hollow: bool,
    /// Epoxy, primer and paint on the outside, kg/m2.
    pub coating_kg_m2: Measure,
    /// Frames, spigots and bulkheads as a fraction of the shell's mass.
    pub extra_fraction: Measure,
}

/// A shell on a scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// kg.
    pub mass_kg: Measure,
    /// Where it balances; the predicted place when absent.
    pub at: Option<Place>,
}

/// Measured on the printed hull; each replaces what was found on the mesh.
#[derive(Debug, Clone, PartialEq)]
pub struct RunningOverride {
    /// Name of the surface as `skimwright check` prints it, e.g. `left pad`.
    pub surface: String,
    /// Angle of the keel line to the boat's x axis near the trailing edge, bow up positive.
    pub angle_rad: Option<Measure>,
    /// Chine to chine, m.
    pub beam_m: Option<Measure>,
    /// Mean of the two sides.
    pub deadrise_rad: Option<Measure>,
    /// From the keel out to the inner spray strake, m.
    pub strake_m: Option<Measure>,
    /// m.
    pub trailing_edge_x_m: Option<Measure>,
    /// m.
    pub trailing_edge_z_m: Option<Measure>,
}

/// Something carried.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The builder's name, unique in the boat.
    pub name: String,
    /// kg.
    pub mass_kg: Measure,
    /// Its own centre of gravity.
    pub at: Place,
    /// Length, width, height, m; for inertia and drawing. Zero when not given.
    pub size_m: [f64; 3],
    /// Whether it can be slid to trim the boat (the battery usually can).
    pub movable: bool,
}

/// One propeller and what turns it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drive {
    /// e.g. `left`; empty for a single drive.
    pub name: String,
    /// Cells.
    pub battery: Battery,
    /// Speed controller and leads.
    pub controller: Controller,
    /// Motor.
    pub motor: Motor,
    /// Motor turns per propeller turn; 1 is direct.
    pub gear_ratio: Measure,
    /// Cooling water, if any.
    pub cooling: Option<CoolingLoop>,
    /// Shaft.
    pub shaft: Shaft,
    /// The bracket that holds the shaft's end, if any.
    pub strut: Option<Blade>,
    /// The barrel at the strut's foot, if there is a strut.
    pub barrel: Option<Barrel>,
    /// Propeller.
    pub propeller: Propeller,
}

/// Lithium pack.
#[derive(Debug, Clone, PartialEq)]
pub struct Battery {
    /// Cells in series.
    pub series: u32,
    /// Cells in parallel.
    pub parallel: u32,
    /// Whole pack, coulomb.
    pub capacity_c: Measure,
    /// One cell, ohm, warm.
    pub cell_resistance_ohm: Measure,
    /// 0 to 1 at the moment asked about.
    pub state_of_charge: Measure,
    /// degC.
    pub temperature_c: Measure,
    /// The maker's limit, degC.
    pub max_temperature_c: Measure,
    /// For heat, kg.
    pub mass_kg: Option<f64>,
    /// What the fuse is marked with, A.
    pub fuse_a: Option<f64>,
    /// The connector maker's continuous rating, A.
    pub connector_a: Option<f64>,
}

/// Speed controller with its leads and connectors.
#[derive(Debug, Clone, PartialEq)]
pub struct Controller {
    /// Conduction path of the bridge plus leads and connectors, ohm.
    pub resistance_ohm: Measure,
    /// The maker's continuous rating, A.
    pub rated_current_a: Option<f64>,
    /// Added battery lead, m.
    pub lead_m: Measure,
    /// Motor current at which it holds back, A.
    pub current_limit_a: Option<f64>,
    /// Capacitors at its input, F.
    pub capacitor_f: Option<f64>,
    /// The maker's limit, degC.
    pub max_temperature_c: Measure,
    /// For heat, kg.
    pub mass_kg: Option<f64>,
}

/// What cooling water passes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cooled {
    /// The controller's plate or tube.
    Controller,
    /// The motor's coil or jacket.
    Motor,
}

/// Water line from pickup to outlet.
#[derive(Debug, Clone, PartialEq)]
pub struct CoolingLoop {
    /// Where the water leaves the hull.
    pub outlet: Place,
    /// Diameter of the pickup's hole, m.
    pub pickup_m: Measure,
    /// Inside diameter of the tube, m.
    pub bore_m: Measure,
    /// Of tube, without coils and jackets, m.
    pub length_m: Measure,
    /// In the order the water meets them.
    pub order: Vec<Cooled>,
    /// Highest point above the water at speed, m.
    pub rise_m: Measure,
    /// Share of the ram pressure kept by the pickup.
    pub recovery: Measure,
    /// No air passes through the hull.
    pub sealed_lid: bool,
}

/// Three-constant motor.
#[derive(Debug, Clone, PartialEq)]
pub struct Motor {
    /// rad/s per V.
    pub kv_rad_s_v: Measure,
    /// Terminal resistance at 20 degC, ohm.
    pub resistance_ohm: Measure,
    /// A, at about the working speed.
    pub no_load_current_a: Measure,
    /// Of the winding while running hard, degC.
    pub winding_temperature_c: Measure,
    /// The maker's limit, A.
    pub max_current_a: Option<f64>,
    /// The maker's limit at the winding or can, degC.
    pub max_temperature_c: Measure,
    /// Magnet poles.
    pub poles: Option<u32>,
    /// Can diameter, m.
    pub diameter_m: Option<f64>,
    /// Can length, m.
    pub length_m: Option<f64>,
    /// kg.
    pub mass_kg: Option<f64>,
}

/// Propeller shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Shaft {
    /// To the boat's x axis; positive is propeller end down.
    pub angle_rad: Measure,
    /// To the centreline seen from above; positive pushes the bow to port.
    pub toe_rad: Measure,
    /// Fraction of torque that reaches the propeller, where the builder gives it; else from what follows.
    pub efficiency: Option<Measure>,
    /// Of the tube that cable, wire or shaft runs in, m.
    pub tube_m: Measure,
    /// Bends of that tube together, rad.
    pub bend_rad: Measure,
    /// Between cable, wire or shaft and its tube, m.
    pub gap_m: Measure,
    /// What fills the tube.
    pub lubricant: Lubricant,
    /// m.
    pub diameter_m: Option<f64>,
    /// Between bearings, m.
    pub length_m: Option<f64>,
    /// What turns the propeller.
    pub kind: ShaftKind,
    /// How the bearings hold it.
    pub ends: ShaftEnds,
    /// Free end from the last bearing to the propeller, m.
    pub stub_m: Option<f64>,
}

/// What fills a shaft's tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lubricant {
    /// Grease, thinned by turning.
    Grease,
    /// Light oil.
    Oil,
    /// Water that came in.
    Water,
}

/// What turns the propeller.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShaftKind {
    /// A cable in a liner.
    Flex,
    /// A spring-steel wire.
    Wire,
    /// A straight shaft.
    Solid,
}

/// How a shaft's bearings hold it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShaftEnds {
    /// Both let it tilt.
    Pinned,
    /// A collet or long bush and a short one.
    ClampedPinned,
    /// Neither lets it tilt.
    Clamped,
}

/// The round barrel that holds the shaft at the strut's foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Barrel {
    /// m.
    pub diameter_m: Measure,
    /// m.
    pub length_m: Measure,
}

/// Propeller as marked and as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Propeller {
    /// m.
    pub diameter_m: Measure,
    /// Effective pitch over diameter.
    pub pitch_ratio: Measure,
    /// Number of blades.
    pub blades: u32,
    /// Expanded blade area over disc area.
    pub area_ratio: Measure,
    /// Centre of the disc.
    pub at: Place,
    /// Turns clockwise seen from astern.
    pub right_handed: bool,
    /// Upward force as a fraction of thrust when half immersed; see `laws`.
    pub lift_fraction: Measure,
    /// Trailing edge bent down from the flat face that `pitch_ratio` is of, m; 0 when it is included.
    pub cup_m: f64,
    /// Material's name, as `laws` lists them for printed, moulded and metal blades.
    pub material: Option<String>,
    /// The builder's own measurements.
    pub measured: Vec<PropellerPoint>,
}

/// One measurement of a propeller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PropellerPoint {
    /// m/s.
    pub speed_m_s: f64,
    /// rad/s.
    pub shaft_rad_s: f64,
    /// N.
    pub thrust_n: f64,
    /// N m.
    pub torque_n_m: Option<f64>,
    /// Depth of the lowest tip over diameter.
    pub immersion: f64,
}

/// Rudder, fin or strut: a flat blade in the water.
#[derive(Debug, Clone, PartialEq)]
pub struct Blade {
    /// The builder's name.
    pub name: String,
    /// Leading edge at the root (upper end).
    pub at: Place,
    /// m.
    pub chord_m: Measure,
    /// From root to tip, m.
    pub span_m: Measure,
    /// Greatest thickness, m.
    pub thickness_m: Measure,
    /// Lean of the span from vertical; positive moves the tip to port.
    pub lean_rad: Measure,
    /// Fixed angle to the flow; positive pushes the blade to port.
    pub toe_rad: Measure,
    /// Sharp ahead and square behind (a wedge) rather than a plate.
    pub wedge: bool,
    /// Greatest deflection for a rudder; 0 for a fin.
    pub throw_rad: Measure,
    /// From the leading edge aft to the stock a rudder turns on; 0 for a fin.
    pub stock_m: Measure,
    /// What the rudder takes for 60 degrees, s; 0 for a fin.
    pub servo_time_s: Measure,
    /// What the servo's maker says it holds at the rudder's stock, linkage included, N m.
    pub servo_torque_n_m: Option<f64>,
}

/// A trim tab behind a running surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Tab {
    /// The builder's name.
    pub name: String,
    /// Middle of the hinge line.
    pub at: Place,
    /// Across the stream, m.
    pub span_m: Measure,
    /// Hinge to trailing edge, m.
    pub chord_m: Measure,
    /// From the boat's x axis, trailing edge down positive.
    pub angle_rad: Measure,
}

/// A lifting surface in air.
#[derive(Debug, Clone, PartialEq)]
pub struct Wing {
    /// The builder's name.
    pub name: String,
    /// Middle of the leading edge.
    pub at: Place,
    /// m.
    pub span_m: Measure,
    /// m.
    pub chord_m: Measure,
    /// To the boat's x axis, nose up positive.
    pub incidence_rad: Measure,
}

/// Foam or a sealed void.
#[derive(Debug, Clone, PartialEq)]
pub struct FloatAid {
    /// The builder's name.
    pub name: String,
    /// m3.
    pub volume_m3: Measure,
    /// Its middle.
    pub at: Place,
}

/// A place where water can enter.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// The builder's name.
    pub name: String,
    /// Its lowest point.
    pub at: Place,
    /// Of a hatch that parts go in by: length and width, m.
    pub hatch_m: Option<[f64; 2]>,
}
