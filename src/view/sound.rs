//! Whether a drawing can be used by everybody: by ear, by key and by thumb.

use std::collections::{BTreeMap, BTreeSet};

use super::{Element, Node};

/// What is wrong with a drawing, in words; empty when nothing is. The rules are those of WCAG 2.2
/// that can be told without a page: 1.3.1 and 3.3.2 (a field has a label), 4.1.2 (a button has a
/// name), and those of HTML: ids are unique, and what is named by its id is there.
#[must_use]
pub fn faults<M>(drawing: &Node<M>) -> Vec<String> {
    let mut ids: BTreeMap<String, usize> = BTreeMap::new();
    let mut labelled = BTreeSet::new();
    let mut named = Vec::new();
    drawing.each(&mut |element| {
        if let Some(id) = element.attribute("id") {
            *ids.entry(id.to_owned()).or_default() += 1;
        }
        if let Some(id) = element.attribute("for") {
            labelled.insert(id.to_owned());
            named.push(id.to_owned());
        }
        for name in ["aria-labelledby", "aria-describedby", "aria-controls"] {
            let of = element.attribute(name).unwrap_or_default();
            named.extend(of.split_whitespace().map(str::to_owned));
        }
    });
    let twice = ids.iter().filter(|(_, count)| **count > 1);
    let mut faults: Vec<String> = twice
        .map(|(id, count)| format!("the id {id} is given {count} times"))
        .collect();
    let absent = named.iter().filter(|id| !ids.contains_key(*id));
    faults.extend(absent.map(|id| format!("nothing has the id {id}, which is referred to")));
    drawing.each(&mut |element| {
        let id = element.attribute("id").unwrap_or_default();
        match element.tag {
            "button" | "a" if name_of(element).is_empty() => {
                faults.push(format!("a {} has no words", element.tag));
            }
            "input" | "select" | "textarea"
                if !labelled.contains(id) && element.attribute("aria-label").is_none() =>
            {
                faults.push(format!("the field “{id}” has no label"));
            }
            _ => {}
        }
    });
    faults
}

fn name_of<M>(element: &Element<M>) -> String {
    let given = element
        .attribute("aria-label")
        .or_else(|| element.attribute("aria-labelledby"));
    given.map_or_else(
        || {
            let mut heard = String::new();
            for node in &element.inside {
                hear(node, &mut heard);
            }
            heard.trim().to_owned()
        },
        str::to_owned,
    )
}

fn hear<M>(node: &Node<M>, heard: &mut String) {
    match node {
        Node::Nothing => {}
        Node::Text(words) => heard.push_str(words),
        Node::Element(element) => {
            if element.attribute("aria-hidden") != Some("true") {
                for node in &element.inside {
                    hear(node, heard);
                }
            }
        }
        Node::Several(nodes) => {
            for node in nodes {
                hear(node, heard);
            }
        }
    }
}
