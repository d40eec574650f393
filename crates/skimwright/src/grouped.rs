//! The commands as `--help` lists them: by the builder's day.

use clap::CommandFactory as _;
use std::fmt::Write as _;

use crate::cli::Arguments;

/// Each command once, in the order a builder meets them.
const DAY: [(&str, &[&str]); 5] = [
    (
        "Before printing",
        &[
            "demo", "new", "size", "check", "next", "report", "hull", "pieces", "sheet",
        ],
    ),
    ("Power", &["outfit", "stint"]),
    ("On the pond", &["pond", "outing"]),
    (
        "Afterwards",
        &[
            "hear", "track", "log", "pulses", "marks", "together", "learn", "why", "keep", "builds",
        ],
    ),
    ("Tools", &["open", "calc", "schema", "manuals"]),
];

/// How help is laid out: what it is, how it is called, the commands, the options, examples.
const LAID_OUT: &str = "{before-help}{about-with-newline}\n{usage-heading} {usage}\n{all}\nOptions:\n{options}{after-help}";

/// What can be said, with the commands grouped.
pub fn command() -> clap::Command {
    let all = Arguments::command();
    let list = list(&all);
    all.help_template(LAID_OUT.replace("{all}", &list))
}

fn list(all: &clap::Command) -> String {
    let mut text = String::new();
    for (when, names) in DAY {
        let _ = writeln!(text, "\n{when}:");
        for name in names {
            let about = all.find_subcommand(name).and_then(clap::Command::get_about);
            let about = about.map(ToString::to_string).unwrap_or_default();
            let _ = writeln!(text, "  {name:<9} {about}");
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_command_stands_in_the_day_once() {
        let all = Arguments::command();
        let mut listed: Vec<&str> = DAY.iter().flat_map(|(_, names)| *names).copied().collect();
        let mut there: Vec<&str> = all
            .get_subcommands()
            .filter(|c| !c.is_hide_set())
            .map(clap::Command::get_name)
            .collect();
        listed.sort_unstable();
        there.sort_unstable();
        assert_eq!(listed, there);
    }

    #[test]
    fn each_command_says_what_it_answers() {
        for line in list(&Arguments::command())
            .lines()
            .filter(|l| l.starts_with("  "))
        {
            assert!(
                line.chars().count() > 30 && line.chars().count() <= 100,
                "{line}"
            );
        }
    }
}
