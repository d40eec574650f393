//! What goes wrong with fast boats, and why: symptoms, each with its causes, the most frequent first.
//!
//! Common practice, no source, unless a clue's own finding says otherwise. The order is what builders
//! meet most often; the clues say how the model of this boat or a recording can speak for or against a
//! cause.

use super::clue::Clue::{self, *};
use study::{Adjustment, Quantity};

/// Before hands go near the propeller.
pub const PROPELLER: &str = "Disconnect the pack before touching propeller, shaft or strut: with a pack in, the propeller is live.";
/// Before touching packs.
pub const LITHIUM: &str = "Let a hot or wet pack rest outdoors on something that does not burn; never charge one that is swollen, wet or crashed.";
/// Before fetching it.
pub const RECOVERY: &str = "Never swim after a boat: fetch it with a line, a pole or a second boat, never alone, all other boats stopped.";

/// A cause.
#[derive(Debug, PartialEq)]
pub struct Cause {
    /// Stable name, for scripts.
    pub id: &'static str,
    /// What it is.
    pub what: &'static str,
    /// The one thing to try.
    pub try_next: &'static str,
    /// What to measure to decide.
    pub measure: &'static str,
    /// How model and recordings can tell.
    pub clues: &'static [Clue],
    /// Adjustment that the model tries, and the number it should move.
    pub trial: Option<(Adjustment, Quantity)>,
    /// For whoever tries it.
    pub caution: Option<&'static str>,
}

/// A symptom.
#[derive(Debug)]
pub struct Symptom {
    /// Stable name, for scripts.
    pub id: &'static str,
    /// What a builder sees.
    pub name: &'static str,
    /// Ways to say it: words that must all be there, alternatives between bars.
    pub said: &'static [&'static str],
    /// Names of causes, the most frequent first.
    pub causes: &'static [&'static str],
    /// Whatever the cause.
    pub note: Option<&'static str>,
}

/// A cause by its name.
pub fn cause(id: &str) -> Option<&'static Cause> {
    CAUSES.iter().find(|c| c.id == id)
}

impl Cause {
    const fn new(
        id: &'static str,
        what: &'static str,
        try_next: &'static str,
        measure: &'static str,
        clues: &'static [Clue],
    ) -> Self {
        Self {
            id,
            what,
            try_next,
            measure,
            clues,
            trial: None,
            caution: None,
        }
    }

    const fn trial(self, adjustment: Adjustment, quantity: Quantity) -> Self {
        Self {
            trial: Some((adjustment, quantity)),
            ..self
        }
    }

    const fn caution(self, caution: &'static str) -> Self {
        Self {
            caution: Some(caution),
            ..self
        }
    }
}

/// Every cause.
pub const CAUSES: &[Cause] = &[
    Cause::new("balance-aft", "the balance point is too far aft", "move the pack 5 to 10 mm forward", "balance it on a dowel, packs in, and note millimetres from the transom", &[Aft, Finds("porpoising"), Finds("flight-margin")]).trial(Adjustment::PartForward, Quantity::TopTrim),
    Cause::new("balance-forward", "the balance point is too far forward", "move the pack 5 to 10 mm aft", "balance it on a dowel, packs in, and note millimetres from the transom", &[Forward]).trial(Adjustment::PartAft, Quantity::TopTrim),
    Cause::new("balance-at-edge", "the balance point is right at the sponsons' trailing edge, and pitch is stiff", "move the pack 5 mm aft", "balance point against the trailing edge", &[Forward]).trial(Adjustment::PartAft, Quantity::TopTrim),
    Cause::new("tail-light", "the tail is too light on its propeller", "move the pack 5 mm aft, or ballast the tail", "load under the propeller with the boat level on the bench", &[Low("propeller-load")]).trial(Adjustment::PartAft, Quantity::TopTrim),
    Cause::new("strut-up", "the shaft points up at the propeller: it drives the bow up", "half to one degree more propeller-down", "shaft angle against the pads on a flat board", &[ShaftUp]).trial(Adjustment::ShaftDown, Quantity::TopTrim).caution(PROPELLER),
    Cause::new("strut-down", "the strut is too deep, or the shaft too much propeller-down", "raise the strut 1 mm, or flatten it half a degree", "strut height and angle on a flat board", &[ShaftDown]).trial(Adjustment::StrutHigher, Quantity::Immersion).caution(PROPELLER),
    Cause::new("strut-high", "the strut is too high: the propeller bites too little water", "lower the strut 1 mm", "depth of the propeller's disc under the bottom", &[PropellerShallow]).trial(Adjustment::StrutLower, Quantity::Immersion).caution(PROPELLER),
    Cause::new("propeller-far-back", "the propeller is far behind the transom", "shorten the stub, or move the pack forward", "transom to propeller", &[PropellerBack]).caution(PROPELLER),
    Cause::new("tabs-up", "trim tabs stand up", "set the tabs 1 degree down, both alike", "tab angle against the bottom with a straightedge", &[]),
    Cause::new("bottom-untrue", "the bottom is hooked, rockered or hollow near the transom", "true it on a sanding board", "a straightedge along the last 100 mm of the bottom", &[]).trial(Adjustment::PadAngleLess, Quantity::TopTrim),
    Cause::new("pad-angle", "the pads stand too steep", "take half a degree off the pads' angle", "pad angle on a flat board with gauge blocks", &[High("pad-angle"), Finds("surface-angle")]).trial(Adjustment::PadAngleLess, Quantity::TopTrim),
    Cause::new("pad-hollow", "the pads are hollow or wavy", "block-sand them flat on glass", "a straightedge across and along each pad", &[]),
    Cause::new("fin-flex", "the turn fin flexes or is bent", "stiffen or straighten the fin", "push the fin's tip sideways by hand and look along it", &[HasFin]).caution(PROPELLER),
    Cause::new("fin-hook", "the fin's hook or toe is wrong", "set the fin square to the course, then a little hook at a time", "fin angle against the centreline", &[HasFin]),
    Cause::new("rudder-deep", "the rudder is too deep: it lifts the stern or drags it", "shorten the rudder in small steps", "rudder depth under the bottom", &[HasRudder]),
    Cause::new("propeller-airy", "the propeller ventilates: it spins in air and gives no thrust", "squeeze the throttle over two seconds and push off at walking pace; then lower the strut 1 mm", "turns against speed: slip over a third is air", &[Finds("launch"), Slipping]).trial(Adjustment::StrutLower, Quantity::Immersion).caution(PROPELLER),
    Cause::new("propeller-blunt", "the propeller is blunt or out of balance", "sharpen and balance it, or try a sharp spare", "run the blade's edge along a fingernail; hang it on a balancer", &[Slipping]).caution(PROPELLER),
    Cause::new("coupling-slips", "the cable or shaft slips in its coupling", "clean and tighten the coupling; mark both with a pen and look again after a run", "pen mark across cable and collet before and after", &[Slipping]).caution(PROPELLER),
    Cause::new("propeller-big", "the propeller asks more than motor and pack give", "one step smaller in diameter or pitch", "current and turns over one straight", &[Finds("controller"), Finds("motor"), Finds("hump"), CurrentHigh]).trial(Adjustment::PropellerSmaller, Quantity::TopCurrent).caution(PROPELLER),
    Cause::new("pack-weak", "the pack sags: too small, cold, old or not full", "try a fresh warm pack, then a larger one", "volts under load on a log; over 0.5 V a cell of sag is weak", &[Finds("pack"), VoltageLow]).caution(LITHIUM),
    Cause::new("driveline-binds", "the driveline binds", "turn the shaft by hand, then ease bends, bushes and alignment, and grease", "current with the boat on its stand, propeller off", &[CurrentHigh]).caution(PROPELLER),
    Cause::new("motor-wrong", "the motor's speed constant does not suit cells and propeller", "compare set-ups with `skimwright outfit`", "top speed over pitch times unloaded turns", &[Finds("pitch-speed"), Finds("top-speed")]).trial(Adjustment::CellMore, Quantity::TopSpeed),
    Cause::new("wind", "wind under the bow", "ease off into the wind; run it in calm first", "note wind and course for each flip", &[Finds("flight-margin")]).caution(RECOVERY),
    Cause::new("torque-lifts-sponson", "propeller torque lifts one sponson", "ballast the lifting side, or widen its pad a little", "run at half throttle: if it stays down, it is torque", &[Finds("heel"), OnePropeller]),
    Cause::new("air-trap", "too much air is trapped under it", "an air dam, or less angle under the deck", "does it rise with speed before it hits a ripple", &[Finds("flight-margin")]).caution(RECOVERY),
    Cause::new("fin-lifts", "the turn fin pushes its side up", "run slowly with the fin off", "lean with and without the fin at low speed", &[HasFin]).caution(PROPELLER),
    Cause::new("rudder-crooked", "the rudder is not square", "square the rudder to the water", "set square against rudder and transom", &[HasRudder]),
    Cause::new("no-entry-panel", "nothing stops the bow from digging in", "add an anti-dive panel under the nose", "angle of the underside ahead of the pads", &[]),
    Cause::new("throttle-slow", "the throttle is opened too slowly for its sponsons to lift", "blip the throttle to lift the sponsons, then drive off", "the same launch at three rates of throttle", &[]),
    Cause::new("rudder-short", "the rudder is too short, or stalls drawing air", "a longer rudder first, then one with a sharper edge", "rudder depth against the boat's length; does it turn at low speed", &[HasRudder, Finds("holds-course")]),
    Cause::new("throw-much", "too much rudder throw", "cut the throw by a third", "rudder angle at full stick", &[ThrowMuch]),
    Cause::new("too-loose", "it rides too loose: little in the water to hold it", "tabs down evenly, or a little more fin", "wetted length at speed on a film from the side", &[Finds("surface-angle"), Finds("stability")]),
    Cause::new("fin-missing", "no fin holds the side", "fit a turn fin at the balance point or a little ahead", "is there any fin, and how deep", &[NoFin]),
    Cause::new("chine-trips", "the outer chine digs in and trips it", "bevel the chine", "film a turn from behind: does the outer edge go under", &[]).caution(RECOVERY),
    Cause::new("fin-shallow", "the fin is too shallow", "a deeper fin", "fin depth under the bottom", &[NoFin]),
    Cause::new("lifts-throttle", "the throttle is closed in the middle of the turn", "slow before the turn and hold power through it", "throttle on a log against the turn", &[]).caution(RECOVERY),
    Cause::new("narrow", "the boat is narrow and high for its turns", "lower the weight; move side pods or sponsons out", "height of the balance point, beam between chines", &[Finds("stability")]),
    Cause::new("normal-for-type", "one propeller with a fin on one side turns well one way only: normal for its kind", "drive the course the way it turns, or fit a second fin", "turn radius both ways at the same speed", &[OneSidedFin, Finds("one-way-turner")]),
    Cause::new("prop-walk", "the propeller walks the stern sideways", "offset or toe the shaft a little, or trim the rudder", "course held hands-off at half and full throttle", &[OnePropeller, Finds("heel")]),
    Cause::new("rudder-offset", "the rudder sits to one side or its neutral is off", "centre the rudder and equalise its throws", "throw both ways in degrees", &[HasRudder]),
    Cause::new("low-deadrise", "the bottom is flat for its speed", "more deadrise in the next build, or strakes and tabs now", "deadrise at the transom", &[LowDeadrise]),
    Cause::new("rudder-slop", "slop in rudder, linkage or servo", "take the slop out", "move the rudder's tip by hand: over 1 mm is slop", &[]),
    Cause::new("propeller-large-single", "one large propeller rolls a light boat", "three blades of less diameter, or counter-rotating twins", "lean at full throttle and at none", &[OnePropeller, Finds("heel")]).trial(Adjustment::PropellerSmaller, Quantity::TopTrim).caution(PROPELLER),
    Cause::new("shaft-central", "the shaft is straight on the centreline with nothing against its torque", "2 to 3 mm offset or 1 to 2 degrees of toe; left tab up, right tab down; ballast on the left", "offset and toe of the shaft", &[OnePropeller]),
    Cause::new("fin-drags-nose", "the fin pulls the nose down in turns", "raise the strut a little, or less hook", "film a turn: does the nose drop", &[HasFin]),
    Cause::new("fin-big", "the fin is too big or too far forward", "move it aft, then make it smaller", "fin area, and its place against the balance point", &[HasFin]),
    Cause::new("no-water", "no cooling water flows", "clear pickup and tubes; blow through them", "a steady jet at speed; a syringe on the bench", &[Finds("cooling"), NoCooling]),
    Cause::new("run-long", "the run is too long for what carries heat away", "shorten the run by a third and feel it again", "temperatures and minutes, written down", &[Finds("heat")]).caution(LITHIUM),
    Cause::new("esc-thermal", "the controller stops to save itself from heat", "more water or air over it, smaller propeller", "its temperature right after the cut", &[Finds("heat"), Finds("controller"), ControllerHot]),
    Cause::new("low-voltage-cut", "the low-voltage limit cuts in", "a fresh larger pack; check the limit's setting", "volts on a log at the moment of the cut", &[Finds("pack"), VoltageLow]).caution(LITHIUM),
    Cause::new("ripple", "voltage ripple from long leads upsets the controller", "shorten battery leads, or capacitors at the controller", "length of lead between pack and controller", &[Finds("lead")]).caution(LITHIUM),
    Cause::new("part-throttle", "long part-throttle running heats the controller", "run full or off; smaller propeller instead of less throttle", "throttle on a log against its temperature", &[Finds("heat")]),
    Cause::new("timing", "motor timing or its detection does not hold at the hump: it loses step", "a softer start and other timing", "does it happen on a gentle throttle too", &[Finds("hump")]),
    Cause::new("bec-dips", "the receiver's supply dips when servo or throttle loads it", "a receiver pack of its own, or a capacitor on the receiver", "receiver volts with the rudder held hard over", &[SlowEdges]),
    Cause::new("servo-stalls", "the rudder servo stalls and pulls the supply down", "free the rudder and limit its throw", "servo current with the rudder held", &[ThrowMuch, SlowEdges, Finds("servo")]),
    Cause::new("aerial-low", "the aerials lie below the waterline", "lead the last 30 mm of both up high and at right angles", "height of the aerials' ends over the water at rest", &[]),
    Cause::new("hull-shields", "the hull shields: carbon or metal", "lead the aerials out above the deck", "range on the bank with and without the hull", &[CarbonHull]),
    Cause::new("receiver-wet", "water in the receiver or its plugs", "dry and seal it in a pouch", "open the pouch and look; test the failsafe wet", &[SlowEdges, Finds("freeboard")]).caution(RECOVERY),
    Cause::new("failsafe-unset", "failsafe is not set for loss of signal", "set failsafe to stop and test it every day", "transmitter off on the stand: does it stop", &[]).caution(PROPELLER),
    Cause::new("lead-noise", "noise on long servo leads", "twist the leads, a ferrite, move the receiver away", "pulses on a scope or analyser, motor running", &[SlowEdges]),
    Cause::new("servo-wet", "water in the servo", "dry it, or a waterproof servo", "does it still jitter dry, on the bench", &[SlowEdges]),
    Cause::new("bec-weak", "the receiver's supply is too weak", "a stronger supply", "receiver volts while all servos move", &[SlowEdges]),
    Cause::new("tube-pumps", "water comes forward through the shaft tube", "grease it, and a vented cap on the tube", "dry it, run a minute, look where it is wet", &[]),
    Cause::new("bolts-leak", "rudder or strut bolts leak", "sealant under each bolt", "soap water and a straw from inside", &[]),
    Cause::new("hatch-wet", "the hatch tape is wet or lifted", "fresh tape on dry plastic", "tissue along the hatch edge", &[Finds("freeboard")]),
    Cause::new("print-porous", "the printed hull is porous", "dry it, wash thin epoxy inside, paint outside", "weigh it before and after an hour afloat", &[]),
    Cause::new("cable-unsupported", "the cable is unsupported near the coupling, or fits without end play", "support it to 16 mm from the collet, leave 1 to 2 mm at the dog", "gap between dog and strut; bare cable at the coupling", &[Finds("whirl"), Finds("wind-up")]).caution(PROPELLER),
    Cause::new("not-retained", "nothing keeps the propeller on when its fixing fails", "a collar or drive-dog retention, and a spare in the box", "is there anything but the grub screw", &[Finds("blade")]).caution(PROPELLER),
    Cause::new("layer-across", "layer lines lie across the bending", "turn the part on the bed so that layers run along", "which way do the layers run where it broke", &[]),
    Cause::new("pack-slams", "the pack's mass slams forward in a crash", "strap the pack against a bulkhead; carbon rods and glass tape in the nose", "can the pack move at all", &[]).caution(LITHIUM),
    Cause::new("screw-in-layers", "a screw pulls the layers apart", "a metal plate and through-bolts", "does the crack follow the layers at the screw", &[]),
    Cause::new("heat-creep", "warm plastic creeps at the mount", "an annealed or heat-proof mount", "temperature of the mount after a run", &[Finds("heat")]),
    Cause::new("vibration", "vibration works the mount loose", "balance the propeller, straighten the shaft", "does it sing at one speed", &[Finds("whirl")]).caution(PROPELLER),
    Cause::new("propeller-nicked", "the propeller is nicked or carries weed", "look at the propeller first; smooth the nick", "a look, with the pack out", &[Slipping]).caution(PROPELLER),
    Cause::new("motor-warm", "the motor is warm: weaker magnets, more resistance", "let it cool between runs", "temperature at the end of each run", &[Finds("heat")]),
];

/// Every symptom.
pub const SYMPTOMS: &[Symptom] = &[
    Symptom {
        id: "porpoising",
        name: "porpoising: slow pitching, bow up and down",
        said: &[
            "porpoise",
            "slow pitch",
            "pitch up down",
            "bow|nose up down",
            "gallop",
            "seesaw",
            "rock fore aft",
        ],
        causes: &[
            "balance-aft",
            "strut-up",
            "propeller-far-back",
            "tabs-up",
            "bottom-untrue",
        ],
        note: Some("one adjustment rarely has one effect: change one thing a run"),
    },
    Symptom {
        id: "hop-straight",
        name: "hopping or bouncing on the straight",
        said: &["hop", "bounce", "skip", "chatter"],
        causes: &["strut-down", "tail-light", "pad-angle", "pad-hollow"],
        note: None,
    },
    Symptom {
        id: "hop-turns",
        name: "hopping in turns only",
        said: &[
            "hop turn|corner",
            "bounce turn|corner",
            "skip turn|corner",
            "chatter turn|corner",
        ],
        causes: &["fin-flex", "fin-hook", "rudder-deep"],
        note: None,
    },
    Symptom {
        id: "no-plane-revs",
        name: "will not plane, motor revs high",
        said: &[
            "not plane",
            "not plane rev|scream|spin|fast",
            "not get plane",
            "not hump",
            "rev|scream|spin not go|move|push",
            "propeller|prop spin free|air",
            "ventilate",
            "cavitate",
        ],
        causes: &[
            "propeller-airy",
            "propeller-blunt",
            "balance-aft",
            "strut-high",
            "coupling-slips",
        ],
        note: None,
    },
    Symptom {
        id: "no-plane-bogged",
        name: "will not plane, motor slow and hot",
        said: &[
            "not plane",
            "not plane slow|low|hot|bog|labour|power",
            "not get plane",
            "not hump",
            "bog start|launch|hump",
            "stuck hump",
            "plough|plow water|along",
        ],
        causes: &[
            "propeller-big",
            "pack-weak",
            "driveline-binds",
            "motor-wrong",
        ],
        note: None,
    },
    Symptom {
        id: "blow-over",
        name: "blows over, flips or takes off",
        said: &[
            "blow over",
            "blowover",
            "flip",
            "flip over",
            "backflip",
            "loop",
            "take off",
            "took off",
            "fly|flew|airborne",
            "leave water",
            "kite",
        ],
        causes: &[
            "balance-aft",
            "strut-up",
            "strut-high",
            "wind",
            "torque-lifts-sponson",
            "air-trap",
        ],
        note: Some(RECOVERY),
    },
    Symptom {
        id: "sponson-flies",
        name: "one sponson flies",
        said: &[
            "sponson fly|lift|rise|up|high",
            "one side fly|lift|rise",
            "left|right side lift|rise|fly",
        ],
        causes: &["torque-lifts-sponson", "fin-lifts", "rudder-crooked"],
        note: None,
    },
    Symptom {
        id: "stuffs-start",
        name: "stuffs or submarines on the start",
        said: &[
            "stuff",
            "submarine",
            "dive start|launch",
            "bow|nose under start|launch|water",
            "dig start|launch",
        ],
        causes: &[
            "balance-forward",
            "no-entry-panel",
            "throttle-slow",
            "strut-down",
        ],
        note: None,
    },
    Symptom {
        id: "dives-waves",
        name: "nose dives off waves",
        said: &[
            "dive wave|chop|wake|ripple|swell",
            "nose dive",
            "stuff wave|chop|wake",
        ],
        causes: &["balance-at-edge", "balance-forward"],
        note: None,
    },
    Symptom {
        id: "spins-out",
        name: "spins out or hooks in a turn",
        said: &[
            "spin out",
            "spinout",
            "hook",
            "swap end",
            "spin turn|corner|round",
            "snap turn|round",
        ],
        causes: &[
            "rudder-short",
            "throw-much",
            "balance-forward",
            "too-loose",
            "fin-missing",
        ],
        note: None,
    },
    Symptom {
        id: "rolls-turn",
        name: "rolls over or trips in a turn",
        said: &[
            "roll turn|corner",
            "roll over",
            "trip",
            "capsize",
            "tip over",
            "tip turn|corner",
            "barrel roll",
        ],
        causes: &["chine-trips", "fin-shallow", "lifts-throttle", "narrow"],
        note: Some(RECOVERY),
    },
    Symptom {
        id: "turns-one-way",
        name: "turns one way only",
        said: &[
            "turn one way|direction|side",
            "only turn",
            "turn only",
            "not turn",
            "not turn left|right|port|starboard",
            "not steer left|right|port|starboard",
        ],
        causes: &["normal-for-type", "prop-walk", "rudder-offset"],
        note: None,
    },
    Symptom {
        id: "chine-walk",
        name: "chine walk: rocking from side to side",
        said: &[
            "chine walk",
            "rock side",
            "side side",
            "roll side side",
            "wobble",
            "waddle",
        ],
        causes: &[
            "too-loose",
            "balance-aft",
            "narrow",
            "low-deadrise",
            "rudder-slop",
            "strut-high",
        ],
        note: None,
    },
    Symptom {
        id: "torque-roll",
        name: "torque roll or walking to one side",
        said: &[
            "torque roll",
            "prop|propeller walk",
            "lean",
            "list",
            "pull|veer|walk|drift left|right|port|starboard|side",
            "not run|go|track straight",
        ],
        causes: &["propeller-blunt", "propeller-large-single", "shaft-central"],
        note: None,
    },
    Symptom {
        id: "sluggish-turn",
        name: "sluggish, labours in turns",
        said: &[
            "sluggish turn|corner",
            "slow turn|corner",
            "bog turn|corner",
            "labour turn|corner",
            "lose speed turn|corner",
            "drag turn|corner",
        ],
        causes: &["fin-drags-nose", "fin-big"],
        note: None,
    },
    Symptom {
        id: "motor-hot",
        name: "motor hot",
        said: &[
            "motor hot",
            "motor burn|burnt|smoke|overheat|cook|warm",
            "motor too hot",
        ],
        causes: &["propeller-big", "driveline-binds", "no-water", "run-long"],
        note: None,
    },
    Symptom {
        id: "controller-cuts",
        name: "controller hot, or power cuts and returns",
        said: &[
            "esc|controller hot|cut|shut|stop|overheat|burn|smoke",
            "speed controller",
            "cut out",
            "power cut|return|fade|lose",
            "thermal",
            "stop restart",
        ],
        causes: &[
            "esc-thermal",
            "low-voltage-cut",
            "ripple",
            "part-throttle",
            "no-water",
        ],
        note: Some(LITHIUM),
    },
    Symptom {
        id: "stutters",
        name: "motor stutters at the hump",
        said: &[
            "stutter",
            "motor cog|squeal|judder|shudder",
            "sync",
            "desync",
            "lose step",
        ],
        causes: &["timing", "propeller-big", "pack-weak"],
        note: None,
    },
    Symptom {
        id: "brown-out",
        name: "receiver browns out or binds again",
        said: &[
            "brown out",
            "brownout",
            "rebind",
            "bind again",
            "receiver|radio reset|reboot|restart|die|drop",
            "lose signal|radio|control|bind throttle|rudder|power",
        ],
        causes: &["bec-dips", "servo-stalls"],
        note: None,
    },
    Symptom {
        id: "range-water",
        name: "range drops, on the water only",
        said: &[
            "range",
            "lose control|signal far|distance|water",
            "signal weak|water",
        ],
        causes: &["aerial-low", "hull-shields"],
        note: Some(RECOVERY),
    },
    Symptom {
        id: "runs-away",
        name: "runs away, or runs on upside down",
        said: &[
            "run away",
            "runaway",
            "run upside",
            "not stop",
            "keep run",
            "failsafe",
        ],
        causes: &["receiver-wet", "failsafe-unset"],
        note: Some(PROPELLER),
    },
    Symptom {
        id: "servo-jitter",
        name: "servo jitters",
        said: &[
            "servo jitter|twitch|buzz|shake|glitch|hunt",
            "rudder jitter|twitch|shake|glitch|buzz",
            "jitter",
            "twitch",
        ],
        causes: &["lead-noise", "servo-wet", "bec-weak"],
        note: None,
    },
    Symptom {
        id: "water-inside",
        name: "water in the hull",
        said: &[
            "water in|inside hull|boat",
            "water inside",
            "leak",
            "wet inside",
            "take water",
            "fill water",
            "full water",
        ],
        causes: &["tube-pumps", "bolts-leak", "hatch-wet", "print-porous"],
        note: Some(LITHIUM),
    },
    Symptom {
        id: "shaft-breaks",
        name: "shaft breaks or the propeller is lost",
        said: &[
            "shaft|cable|flex break|broke|broken|snap",
            "lose|lost prop|propeller",
            "prop|propeller fall|fell|came off",
            "throw prop|propeller",
        ],
        causes: &["cable-unsupported", "not-retained"],
        note: Some(PROPELLER),
    },
    Symptom {
        id: "nose-cracks",
        name: "printed nose or hull cracks",
        said: &["nose|bow|hull crack|split|broke|broken|break", "crack"],
        causes: &["layer-across", "pack-slams"],
        note: None,
    },
    Symptom {
        id: "mount-splits",
        name: "layers split at motor or strut",
        said: &[
            "layer split|separate|delaminate|crack",
            "delaminate",
            "mount|strut crack|split|loose|tore|torn|broke|broken|pull",
        ],
        causes: &["screw-in-layers", "heat-creep", "vibration"],
        note: None,
    },
    Symptom {
        id: "slower-later",
        name: "speed falls during the session",
        said: &[
            "speed drop|fall|fell|less|down",
            "slow later|end|after|session|before",
            "lose speed",
            "get slow",
            "not fast before|usual|yesterday",
        ],
        causes: &["propeller-nicked", "motor-warm", "pack-weak"],
        note: None,
    },
];
