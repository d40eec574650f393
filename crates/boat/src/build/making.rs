//! How the hull is made.

use super::section;
use crate::checked::{Checker, Table};
use crate::making::{
    Cut, CutAcross, CutPlace, Glue, GlueKind, JointKind, Making, Piece, Printer, Rod, RodMaterial,
};
use crate::model::Axis;

pub(super) fn making(checker: &mut Checker<'_>, root: &Table) -> Making {
    let glue = section(root, "glue");
    Making {
        printer: printer(&section(root, "printer")),
        cuts: root
            .tables("cut")
            .iter()
            .filter_map(|t| cut(checker, t))
            .collect(),
        pieces: root.tables("piece").iter().map(piece).collect(),
        rods: super::each(root, "rod", rod),
        glue: self::glue(&glue),
        frames_m: glue.number("frames"),
    }
}

fn printer(table: &Table) -> Printer {
    let bed = table.lengths("bed");
    let usual = Printer::default();
    Printer {
        bed_m: bed.as_ref().map_or(usual.bed_m, |b| {
            std::array::from_fn(|k| b.get(k).map_or(0.0, |m| m.value))
        }),
        bed_given: bed.is_some(),
        nozzle_m: table.filled("nozzle"),
        layer_m: table.filled("layer"),
        flow_m3_s: table.filled("flow"),
        price_per_kg: table.number("price"),
    }
}

fn cut(checker: &mut Checker<'_>, table: &Table) -> Option<Cut> {
    let help = "give `at = \"200 mm\"` for a cut, or `from` and `to` for a stretch without one";
    let place = match (table.number("at"), table.number("from"), table.number("to")) {
        (Some(at), None, None) => CutPlace::At(at),
        (None, Some(from), Some(to)) if from < to => CutPlace::KeepOff(from, to),
        (None, Some(_), Some(_)) => {
            checker.error(
                table.place_of("to"),
                "`to` is not ahead of `from`",
                "give the smaller number as `from`",
            );
            return None;
        }
        _ => {
            checker.error(table.span.clone(), "this cut has no place", help);
            return None;
        }
    };
    Some(Cut {
        across: match table.text("across") {
            Some("y") => CutAcross::Y,
            _ => CutAcross::X,
        },
        place,
        joint: table.text("joint").map(|word| match word {
            "lap" => JointKind::Lap,
            "butt" => JointKind::Butt,
            _ => JointKind::Flange,
        }),
    })
}

fn piece(table: &Table) -> Piece {
    Piece {
        name: table.text("name").unwrap_or_default().to_owned(),
        mass_kg: table.given("mass"),
        up: table.text("up").and_then(Axis::of_word),
    }
}

fn rod(table: &Table, name: String) -> Rod {
    Rod {
        name,
        diameter_m: table.filled("diameter"),
        from: table.required_place("from"),
        to: table.required_place("to"),
        material: match table.text("material") {
            Some("steel") => RodMaterial::Steel,
            Some("aluminium") => RodMaterial::Aluminium,
            _ => RodMaterial::Carbon,
        },
    }
}

fn glue(table: &Table) -> Glue {
    let word = table.text("kind").unwrap_or("epoxy");
    let kind = GlueKind::ALL
        .into_iter()
        .find(|k| k.word() == word)
        .unwrap_or(GlueKind::Epoxy);
    Glue {
        kind,
        strength_pa: table.given("strength").unwrap_or(kind.strength_pa()),
        gap_m: table.filled("gap"),
        overlap_m: table.filled("overlap"),
    }
}
