//! What can be said on the command line.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

use crate::cli_recordings as recordings;

/// From hull mesh and parts list to what the boat will do, before it is printed.
///
/// A boat is a folder with a `boat.toml` and the hull's mesh. Start one with `skimwright new`,
/// change what differs on your boat, and ask `skimwright check` until nothing says stop.
///
/// Exit status: 0 all good or only to be watched, 1 a finding says stop, 2 the input is at fault.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 100, after_long_help = EXAMPLES)]
pub struct Arguments {
    /// None: what to do first is told.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// Show everything in metric or inch units; as the boat file says unless given
    #[arg(long, global = true, value_name = "UNITS", value_parser = boat::Units::WORDS)]
    pub units: Option<String>,
}

const EXAMPLES: &str = "Examples:
  skimwright new tern --hull three-point     start a boat folder
  skimwright new tern --mesh tern.stl        start one from your own hull
  skimwright size tern --hull vee --carry 1.25kg --cells 3S --speed 60km/h
                                             a hull sized and fitted out for a load
  skimwright check tern                      what it will do, worst first
  skimwright report tern -o tern.html        the same with drawings, to print
  skimwright hull tern --stl tern.stl        the starter hull for your CAD
  skimwright pieces tern                     the hull cut for your printer, with joints
  skimwright sheet tern                      a page for the bench, with drilling patterns
  skimwright learn tern                      measured beside predicted, after an outing
  skimwright why tern \"hops in turns\"          what may be wrong, and what to try next
  skimwright stint tern --script heat        how hot it gets, how long it lasts
  skimwright hear pass.wav --boat tern       speed and rpm from a recording
  skimwright calc friction-line reynolds=2e5 one law on its own";

#[derive(Debug, Subcommand)]
pub enum Command {
    Check(Check),
    Next(NextArgs),
    Report(Report),
    New(New),
    Size(SizeArgs),
    Hull(HullArgs),
    Learn(LearnArgs),
    Why(WhyArgs),
    Stint(StintArgs),
    Outfit(OutfitArgs),
    Hear(recordings::Hear),
    Track(recordings::TrackArgs),
    Pulses(recordings::PulsesArgs),
    Log(recordings::LogArgs),
    Marks(recordings::MarksArgs),
    Together(recordings::Together),
    Outing(recordings::OutingArgs),
    Keep(recordings::Keep),
    Builds(recordings::Builds),
    Pieces(PiecesArgs),
    Sheet(SheetArgs),
    Pond(PondArgs),
    Calc(Calc),
    Schema(Schema),
    Open(Open),
    Demo(Demo),
    Manuals(Manuals),
    /// Answer one question as a child of the page's server: JSON lines on standard input and output
    #[command(hide = true)]
    Answer,
}

/// What the boat will do: findings, worst first
///
/// Weighs the boat, floats it, runs it from rest to top speed, does the same for likely variations
/// within every tolerance, and tries the adjustments a builder can make. Each finding is one
/// sentence with its number, its spread (95 %), the limit it is held against and what it rests on.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright check tern
  skimwright check tern --why        every figure behind each finding
  skimwright check tern --json       for scripts; docs/json.md describes it")]
pub struct Check {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// Show every finding in full, the good ones too
    #[arg(long)]
    pub all: bool,
    /// Show how each finding comes about and the figures behind it
    #[arg(long)]
    pub why: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub effort: Effort,
}

/// What to change next, best for the least work first
///
/// Every change a builder can make is tried on the whole boat; those that push something else over its limit are
/// left out. What costs only minutes is searched together. With --with: the boat with other parts, and what breaks.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright next tern
  skimwright next tern --with cells=4S
  skimwright next tern --with kv='2600 rpm/V' --with diameter='36 mm'")]
pub struct NextArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// Other parts: cells=4S, capacity='5000 mAh', kv='2600 rpm/V', controller='120 A', diameter='40 mm',
    /// pitch_ratio=1.4, headwind='4 m/s'
    #[arg(long, value_name = "PART=VALUE")]
    pub with: Vec<String>,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub effort: Effort,
}

/// One page for the bench: pieces, joints, places, drilling patterns at full size
///
/// Prints on A4 and Letter. Each pattern carries a line of 50 mm: measure it before you drill.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright sheet tern                    writes tern/build-sheet.html
  skimwright sheet tern -o bench.html")]
pub struct SheetArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// File to write; build-sheet.html in the boat folder unless given
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace a file that is there
    #[arg(long)]
    pub force: bool,
    #[command(flatten)]
    pub effort: Effort,
}

/// The hull cut into pieces for the printer, with joints, mass and time
///
/// Cuts the hull so that each piece fits the bed in `[printer]` (220 × 220 × 250 mm unless given), away from trailing
/// edges, brackets, rims and where the hull bends most; makes the joints; turns each piece the way it prints best.
/// Writes one 3MF a piece and `whole.3mf`. `[[cut]]` moves or forbids a cut, `[[piece]]` turns or weighs a piece.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright pieces tern                   writes tern/pieces/
  skimwright pieces tern --list            only list them
  skimwright pieces tern --into print")]
pub struct PiecesArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// Folder to write to; it must not exist, or be empty
    #[arg(long, value_name = "DIR", conflicts_with = "list")]
    pub into: Option<PathBuf>,
    /// Write nothing, only list the pieces
    #[arg(long)]
    pub list: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// How hard to look.
#[derive(Debug, Clone, Copy, Args)]
pub struct Effort {
    /// How many likely variations of the boat to run for the spread
    #[arg(long, default_value_t = 32, value_parser = clap::value_parser!(u32).range(0..=10_000))]
    pub variations: u32,
    /// Seed of the variations: the same seed gives the same output to the byte
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
}

impl From<Effort> for workshop::check::Effort {
    fn from(given: Effort) -> Self {
        Self {
            variations: given.variations,
            seed: given.seed,
        }
    }
}

/// The findings with drawings, charts and tables, as one page to read or print
///
/// Writes one HTML file that needs nothing else: no network, no script. Print it from a browser.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright report tern                   writes tern/report.html
  skimwright report tern -o pond.html")]
pub struct Report {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// File to write; report.html in the boat folder unless given
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace the file when it is there
    #[arg(long)]
    pub force: bool,
    /// Print the findings as JSON instead of text
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub effort: Effort,
}

/// Start a boat folder from a starter hull, or from your own mesh
///
/// The folder holds a complete, commented boat.toml: it can be checked at once, and every number
/// in it is there to be changed. With --mesh the mesh is copied into it, and battery, motor, propeller and the rest
/// are put in by common practice for its type and size and marked `assumed = true`: no finding that rests on them says
/// good until you put in your own numbers.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright new tern --hull three-point
  skimwright new plover --mesh plover.stl")]
pub struct New {
    /// Folder to make; it must not exist, or be empty
    pub dir: PathBuf,
    /// Type of hull; the shape tells it for most meshes
    #[arg(long, value_enum, required_unless_present = "mesh")]
    pub hull: Option<HullType>,
    /// Your own hull as STL, 3MF or OBJ
    #[arg(long, value_name = "FILE")]
    pub mesh: Option<PathBuf>,
    /// Name of the boat; the folder's name unless given
    #[arg(long)]
    pub name: Option<String>,
    /// Print what was made as JSON
    #[arg(long)]
    pub json: bool,
}

/// How big, and where everything goes: a boat folder for a load, cells and a speed
///
/// Tries some five hundred boats of the hull type: lengths, beams, propellers, motors and balance points, each fitted
/// out by common practice and asked of the model; asks everything of the best and of one size smaller and larger; and
/// writes the folder with boat.toml and hull.stl. With --fit your mesh is kept, and you are told by how much it would
/// have to change for the load. Ctrl-C keeps the best until then.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright size tern --hull three-point --carry 1.25kg --cells 3S --speed 60km/h
  skimwright size plover --fit plover.stl --carry 1.2kg --cells 3S --speed 60km/h
  skimwright size wren --hull vee --carry 800g --cells 3S --speed 45km/h --length 500mm")]
pub struct SizeArgs {
    /// Folder to make; it must not exist, or be empty
    pub dir: PathBuf,
    /// Type of hull; the shape tells it for most meshes
    #[arg(long, value_enum, required_unless_present = "fit")]
    pub hull: Option<HullType>,
    /// Mass of everything but the printed hull: 1.25kg
    #[arg(long, value_name = "MASS", value_parser = mass)]
    pub carry: f64,
    /// Cells in series of each pack: 3S
    #[arg(long, value_parser = series)]
    pub cells: u32,
    /// Top speed wanted: 60km/h
    #[arg(long, value_parser = speed)]
    pub speed: f64,
    /// Only this length: 600mm
    #[arg(long, value_parser = length, conflicts_with = "fit")]
    pub length: Option<f64>,
    /// Keep this hull: STL, 3MF or OBJ
    #[arg(long, value_name = "FILE")]
    pub fit: Option<PathBuf>,
    /// Name of the boat; the folder's name unless given
    #[arg(long)]
    pub name: Option<String>,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub effort: Effort,
}

fn quantity(kind: boat::Kind, given: &str) -> Result<f64, String> {
    recordings::quantity(kind, given).map(|q| q.value)
}

fn mass(given: &str) -> Result<f64, String> {
    quantity(boat::Kind::Mass, given)
}

fn speed(given: &str) -> Result<f64, String> {
    quantity(boat::Kind::Speed, given)
}

fn length(given: &str) -> Result<f64, String> {
    quantity(boat::Kind::Length, given)
}

/// `3S`, or `3`.
fn series(given: &str) -> Result<u32, String> {
    let digits = given.trim().trim_end_matches(['S', 's']);
    let wrong = |_| format!("`{given}` is no number of cells; write 3S");
    digits.parse().map_err(wrong)
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum HullType {
    /// Two sponsons ahead, propeller and transom behind
    ThreePoint,
    /// A narrow tub with sponsons on booms
    Outrigger,
    /// A vee-bottomed single hull
    Vee,
    /// Two slender hulls with a tunnel between
    Catamaran,
}

impl HullType {
    /// As `[hull.starter] type` names it.
    pub fn word(self) -> &'static str {
        match self {
            Self::ThreePoint => "three-point",
            Self::Outrigger => "outrigger",
            Self::Vee => "vee",
            Self::Catamaran => "catamaran",
        }
    }
}

/// What was found in the hull's mesh; or write the hull as a mesh
///
/// Lists the outer shape, what the reader repaired or could not, and every running surface by the
/// name that `[[hull.running]]` uses. With --stl or --3mf writes the outer shape in millimetres and
/// boat axes, which for a starter hull is the way into your CAD.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright hull tern                       running surfaces and their angles
  skimwright hull tern --stations 12         and sections along the length
  skimwright hull tern --stl tern.stl        write it as a mesh")]
pub struct HullArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// Write a binary STL file
    #[arg(long, value_name = "FILE")]
    pub stl: Option<PathBuf>,
    /// Write a 3MF file
    #[arg(long = "3mf", value_name = "FILE")]
    pub threemf: Option<PathBuf>,
    /// Replace the files when they are there
    #[arg(long)]
    pub force: bool,
    /// List this many sections along the length
    #[arg(long, default_value_t = 0, value_parser = clap::value_parser!(u32).range(0..=1000))]
    pub stations: u32,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// Measured beside predicted, and what that teaches about this boat
///
/// Takes the measured quantities of an outing (the latest unless named), sets each beside the
/// prediction for the same condition with both spreads, says whether the instruments agree, and fits
/// what is uncertain in the model. Nothing changes unless --keep is given: then learned.toml is
/// written into the boat folder, and every later prediction carries it and says so.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright learn tern                                  the latest outing
  skimwright learn tern --outing 2026-05-17
  skimwright learn tern --outing 2026-05-17 --outing 2026-05-24 --keep")]
pub struct LearnArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// Outing, as its folder in outings/ is named; several are fitted together
    #[arg(long, value_name = "DATE")]
    pub outing: Vec<String>,
    /// Write what was learned to learned.toml; predictions then carry it
    #[arg(long)]
    pub keep: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// What went wrong: symptoms in your words, and their causes on this boat
///
/// Finds known symptoms in plain English, and in what an outing recorded; ranks their causes by what
/// builders meet most, moved by what the model says of this boat and by what was measured; names the
/// one thing to try next and what to measure to decide.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright why tern \"porpoises and won't turn left\"
  skimwright why tern --outing 2026-05-17                what it recorded, and what you wrote in outing.toml")]
pub struct WhyArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// What the boat did
    #[arg(value_name = "WORDS")]
    pub words: Vec<String>,
    /// An outing whose recordings and notes count too
    #[arg(long, value_name = "DATE")]
    pub outing: Option<String>,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub effort: Effort,
}

/// A run in time: current, charge and heat, and what reaches its limit first
///
/// Runs a throttle script on the boat's own drag and propeller from a full pack, watches six
/// temperatures while it runs and while it soaks afterwards, and asks again what happens if the
/// cooling fails. A FILE is a table with a heading: time, throttle, and speed if it was measured.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright stint tern                                full throttle until the pack is spent
  skimwright stint tern --script heat --soak 180       a race heat, then three minutes at the bank
  skimwright stint tern --script log.csv               the throttle you recorded
  skimwright stint tern --what-if pickup-blocked       only this question")]
pub struct StintArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// flat-out, heat, sprint, cruise, or a FILE with time and throttle
    #[arg(long, default_value = "flat-out", value_name = "SCRIPT")]
    pub script: String,
    /// Ask only these; all of them unless given
    #[arg(long = "what-if", value_name = "WHAT", value_parser = clap::builder::PossibleValuesParser::new(study::stint::WHAT_IFS.map(|w| w.0)))]
    pub what_if: Vec<String>,
    /// Watch for so many seconds after stopping
    #[arg(long, default_value_t = 120, value_name = "SECONDS", value_parser = clap::value_parser!(u32).range(0..=7200))]
    pub soak: u32,
    /// Which drive, by its name; the first unless given
    #[arg(long, value_name = "NAME")]
    pub drive: Option<String>,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// A run in time on the pond: what happens, in order
///
/// Moves the boat in six degrees of freedom over water and wind, with throttle and rudder from the options
/// or a script, and names what happens: planes, hops, leaves the water, lands, ventilates, hooks, trips, rolls,
/// flips, dives. Exit status 1 when it ends upside down.
#[derive(Debug, Args)]
#[command(
    after_long_help = "Ready conditions: launch, straight, ripple, gusty, wake, turn-left, turn-right. Options say it otherwise.

Examples:
  skimwright pond tern                               from rest on flat water
  skimwright pond tern --condition turn-right
  skimwright pond tern --condition straight --water waves=40mm,1.5m --wind 5m/s,from=left
  skimwright pond tern --condition ripple --runs 100  how often it ends upside down
  skimwright pond tern --script hands.csv -o run.json

hands.csv (rudder positive to the left; without it the driver holds the course):
  time [s], throttle [%], rudder [deg]
  0, 0, 0
  1.5, 100, 0
  4, 100, -10"
)]
pub struct PondArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// Ready condition to start from
    #[arg(long, default_value = "launch", value_name = "NAME")]
    pub condition: String,
    /// flat, ripple=20mm, waves=40mm,1.5m or wake=40mm,0.8m, with ,from=SIDE
    #[arg(long)]
    pub water: Option<String>,
    /// Speed and side: 5m/s,from=ahead
    #[arg(long)]
    pub wind: Option<String>,
    /// Held throttle, 0 to 1 or in %; what holds the starting speed unless given
    #[arg(long)]
    pub throttle: Option<String>,
    /// right=12deg,at=2s; the driver holds the course unless given
    #[arg(long)]
    pub rudder: Option<String>,
    /// Throttle and rudder from a table with time, throttle and rudder
    #[arg(long, value_name = "FILE", conflicts_with_all = ["throttle", "rudder"])]
    pub script: Option<PathBuf>,
    /// rest, top, or a speed
    #[arg(long)]
    pub start: Option<String>,
    /// How long
    #[arg(long, default_value_t = 20.0)]
    pub seconds: f64,
    /// Seed of the ripple: the same seed gives the same output to the byte
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Count how so many runs end, with seeds from --seed on
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub runs: u32,
    /// Also: how often it ends upside down, by speed and ripple
    #[arg(long)]
    pub odds: bool,
    /// Write the run for playing back
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Replace the file when it is there
    #[arg(long)]
    pub force: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// Which cells, motor and propeller: set-ups compared, with what would break
///
/// Without a file: one cell less to two more, motors of the same can in nine windings and propellers
/// in nine sizes and four pitches. A file lists what you own or could buy; each list it does not
/// have is left as without a file.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright outfit tern --wish run-time
  skimwright outfit tern --own shelf.toml

shelf.toml:
  [[pack]]
  name = \"red\"
  series = 4
  capacity = \"5000 mAh\"
  cell_resistance = \"2.5 mohm\"

  [[motor]]
  name = \"short\"
  kv = \"2400 rpm/V\"
  resistance = \"13 mohm\"
  no_load_current = \"4 A\"

  [[propeller]]
  name = \"bronze 36\"
  diameter = \"36 mm\"
  pitch_ratio = 1.4")]
pub struct OutfitArgs {
    /// Boat folder, or its boat.toml
    pub boat: PathBuf,
    /// What to put first among the sound ones
    #[arg(long, value_enum, default_value_t = Best::Speed)]
    pub wish: Best,
    /// Cells in series to try: `4`, or `2-6`; one less to two more unless given
    #[arg(long, value_name = "CELLS", value_parser = cells)]
    pub cells: Option<(u32, u32)>,
    /// What you own or could buy
    #[arg(long, value_name = "FILE")]
    pub own: Option<PathBuf>,
    /// Show so many
    #[arg(long, default_value_t = 20, value_parser = clap::value_parser!(u32).range(1..=100_000))]
    pub rows: u32,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// What a set-up is ranked by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Best {
    /// Top speed
    Speed,
    /// Minutes flat out
    RunTime,
    /// A cool motor
    Cool,
}

/// One law on its own: `calc` lists them, `calc LAW` says what it takes
///
/// Values take units as in boat.toml: speed="24 m/s", beam="60 mm", trim=2.5deg. Quote values
/// with spaces.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright calc
  skimwright calc friction-line
  skimwright calc friction-line reynolds=2e5
  skimwright calc fresh-water temperature=14degC --json")]
pub struct Calc {
    /// Name of the law
    pub law: Option<String>,
    /// Its inputs
    #[arg(value_name = "KEY=VALUE")]
    pub inputs: Vec<String>,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// The JSON Schema of boat.toml, for editors
#[derive(Debug, Args)]
pub struct Schema {
    /// Accepted for uniformity: the schema is JSON either way
    #[arg(long)]
    pub json: bool,
}

/// A demonstration boat of your own to try things on
///
/// Copies it, with its hull and what it recorded at the pond, into a new folder. Nothing you do to the copy can
/// break anything.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright demo                    copies `practice` into ./practice
  skimwright demo --list             which boats there are
  skimwright demo longshank mine     copies `longshank` into ./mine")]
pub struct Demo {
    /// Which boat; --list tells them
    #[arg(default_value = "practice")]
    pub name: String,
    /// Folder to make; it must not exist. The boat's name unless given
    pub folder: Option<PathBuf>,
    /// Only list the boats
    #[arg(long)]
    pub list: bool,
    /// Print one JSON object instead of text
    #[arg(long)]
    pub json: bool,
}

/// Man pages and shell completions, written to a folder
///
/// Writes man/ and completions/ for bash, zsh, fish, PowerShell and Elvish.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright manuals ~/skimwright-manuals
  man ~/skimwright-manuals/man/skimwright-check.1")]
pub struct Manuals {
    /// Folder to write into; it must not exist, or be empty
    pub folder: PathBuf,
}

/// The boat on the water in front of you: a page in the browser
///
/// Serves a page on this computer alone and opens it. Without a boat the page offers the
/// demonstration boats and starter hulls, and takes a mesh of your own.
#[derive(Debug, Args)]
#[command(after_long_help = "Examples:
  skimwright open tern
  skimwright open                    start from a demonstration boat, a starter hull or a mesh
  skimwright open tern --lan         also from a phone on the same network, with a code to type
  skimwright open tern --read-only   look and try out, change no file")]
pub struct Open {
    /// Boat folder, or its boat.toml
    pub boat: Option<PathBuf>,
    /// Port to listen on; a free one unless given
    #[arg(long, default_value_t = 0)]
    pub port: u16,
    /// Listen on the local network too; a phone is let in by the code printed here
    #[arg(long)]
    pub lan: bool,
    /// Change no file
    #[arg(long)]
    pub read_only: bool,
    /// Print the address and open no browser
    #[arg(long)]
    pub no_browser: bool,
    /// Print the address as JSON
    #[arg(long)]
    pub json: bool,
    /// Print what the server answers as an OpenAPI document, and stop
    #[arg(long)]
    pub print_openapi: bool,
}

/// A count of cells, or the first and last of several.
fn cells(text: &str) -> Result<(u32, u32), String> {
    let (low, high) = text.split_once('-').unwrap_or((text, text));
    let count = |t: &str| t.trim().trim_end_matches(['S', 's']).parse().ok();
    match (count(low), count(high)) {
        (Some(low), Some(high)) if 1 <= low && low <= high && high <= 16 => Ok((low, high)),
        _ => Err("write a count of 1 to 16 cells, or first and last: `2-6`".to_owned()),
    }
}
