//! The first screen: seven answers, how each stands, and what to do next.

use advice::Verdict;
use advice::next::{Effect, Step};
use advice::verdict::Item;

use super::findings::badge;
use crate::node::Node;

/// The answers, and the next change where there is one.
pub fn nodes(verdict: &Verdict) -> Vec<Node> {
    let list = Node::new("dl")
        .class("headline")
        .with_all(verdict.items.iter().map(answer));
    let mut all = vec![list];
    all.extend(verdict.next.as_ref().map(next));
    all
}

fn answer(item: &Item) -> Node {
    let beside = item
        .beside
        .as_ref()
        .map(|words| Node::new("span").class("beside").text(words.as_str()));
    Node::new("div")
        .with(Node::new("dt").text(item.label.as_ref()))
        .with(
            Node::new("dd")
                .with(Node::new("span").text(item.text.as_str()))
                .with_all(beside)
                .with(badge(item.standing)),
        )
}

fn next(next: &Step) -> Node {
    let gains: Vec<String> = next.gains.iter().map(Effect::words).collect();
    let words = format!(
        "{} ({}): {}.",
        next.what,
        next.work.words(),
        gains.join(", ")
    );
    Node::new("p")
        .class("next")
        .with(Node::new("strong").text("Next: "))
        .with(Node::new("span").text(words))
}
