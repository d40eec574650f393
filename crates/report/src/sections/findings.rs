//! Findings, worst first, each opening to why and to what would change it.

use advice::{Finding, Standing};

use super::table::{Table, opens};
use crate::node::Node;

/// All findings.
pub fn section(findings: &[Finding]) -> Node {
    let mut section = Node::new("section")
        .attr("id", "findings")
        .with(Node::new("h2").text("Findings, worst first"))
        .with(tally(findings));
    if findings.is_empty() {
        return section.with(Node::new("p").text("Nothing was asked of this boat."));
    }
    let each = (0..findings.len()).map(|i| Node::new("li").with(finding(findings, i)));
    section.push(Node::new("ol").class("findings").with_all(each));
    section
}

/// How many of each standing: the key to the marks as well.
fn tally(findings: &[Finding]) -> Node {
    let each = Standing::ALL.iter().map(|standing| {
        let count = findings.iter().filter(|f| f.standing == *standing).count();
        Node::new("li")
            .with(badge(*standing))
            .with(Node::new("span").text(format!("{count}, {}", meaning(*standing))))
    });
    Node::new("ul").class("tally").with_all(each)
}

const fn meaning(standing: Standing) -> &'static str {
    match standing {
        Standing::Stop => "would fail as it is",
        Standing::Watch => "near a limit or against common practice",
        Standing::Unsure => "cannot be told from what is known",
        Standing::Good => "as it should be",
    }
}

pub(super) fn badge(standing: Standing) -> Node {
    Node::new("span")
        .class(format!("standing {}", standing.word()))
        .with(
            Node::new("span")
                .attr("aria-hidden", "true")
                .text(standing.mark()),
        )
        .with(Node::new("span").class("word").text(standing.word()))
}

fn finding(findings: &[Finding], index: usize) -> Node {
    let finding = &findings[index];
    // A caution said twice is not read.
    let mut before = findings[..index].iter();
    let mut caution = finding.caution.as_deref();
    if before.any(|f| f.caution == finding.caution) {
        caution = None;
    }
    let mut article = Node::new("article")
        .attr("id", format!("finding-{}", finding.id))
        .with(
            Node::new("h3")
                .with(badge(finding.standing))
                .with(Node::new("span").text(finding.sentence.as_str())),
        );
    if let Some(line) = numbers(finding) {
        article.push(Node::new("p").class("numbers").text(line));
    }
    if let Some(caution) = caution {
        article.push(super::running::caution(caution));
    }
    let inside = why(finding);
    if !inside.is_empty() {
        article.push(opens("why, and what would change it", inside));
    }
    article
}

/// The number, its limit and what it rests on.
fn numbers(finding: &Finding) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(number) = &finding.number {
        parts.push(number.to_string());
    }
    if let Some(limit) = &finding.limit {
        let says = if limit.says.is_empty() {
            String::new()
        } else {
            format!(" ({})", limit.says)
        };
        parts.push(format!("should be {limit}{says}"));
    }
    parts.push(format!("basis: {}", finding.basis.words()));
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn why(finding: &Finding) -> Vec<Node> {
    let mut inside = Vec::new();
    if !finding.why.is_empty() {
        inside.push(Node::new("p").text(finding.why.as_str()));
    }
    if !finding.figures.is_empty() {
        let mut table = Table::new("the figures behind it", &["what", "value"]);
        for figure in &finding.figures {
            table.row([figure.label.as_str(), figure.value.as_str()]);
        }
        inside.push(table.node());
    }
    if !finding.changes.is_empty() {
        inside.push(
            Node::new("p")
                .class("lead")
                .text("What would change it most:"),
        );
        let each = finding.changes.iter().map(|change| {
            let way = if change.better { "better" } else { "worse" };
            Node::new("li").text(format!("{}: {} ({way})", change.what, change.effect))
        });
        inside.push(Node::new("ul").with_all(each));
    }
    inside
}
