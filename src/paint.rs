//! Puts drawings on the page, and turns what happens on the page into what it means. The only place
//! where elements become those of the browser.

use std::rc::Rc;

use yew::virtual_dom::{Key, Listener, ListenerKind, VList, VNode, VTag, VText};
use yew::{AttrValue, Callback};

use crate::touched::meaning;
use crate::view::{Element, Node, Touch, Words};

/// Makes a drawing ready for the page; what touches mean goes to `tell`.
pub fn paint<M: Clone + 'static>(drawing: Node<M>, tell: &Callback<M>) -> VNode {
    within("", drawing, tell)
}

fn within<M: Clone + 'static>(outer: &str, drawing: Node<M>, tell: &Callback<M>) -> VNode {
    match drawing {
        Node::Nothing => VNode::default(),
        Node::Text(words) => text(outer, words),
        Node::Element(element) => tag(*element, tell).into(),
        Node::Several(nodes) => VList::with_children(inside(outer, nodes, tell), None).into(),
    }
}

fn inside<M: Clone + 'static>(outer: &str, nodes: Vec<Node<M>>, tell: &Callback<M>) -> Vec<VNode> {
    let nodes = nodes.into_iter();
    nodes.map(|node| within(outer, node, tell)).collect()
}

fn tag<M: Clone + 'static>(element: Element<M>, tell: &Callback<M>) -> VTag {
    let mut tag = VTag::new(element.tag);
    tag.key = element.key.map(|key| Key::from(key.into_owned()));
    for (name, of) in element.attributes {
        // What stands in a field is not what its attribute said at first.
        if name == "value" && matches!(element.tag, "input" | "textarea") {
            tag.set_value(Some(value(of)));
        } else if name == "selected" {
            // Nor does a list follow the attribute once somebody has chosen from it.
            tag.add_property(name, true);
        } else {
            tag.add_attribute(name, value(of));
        }
    }
    for touch in element.touches {
        let tell = tell.clone();
        tag.add_listener(Rc::new(Listening { touch, tell }));
    }
    tag.add_children(inside(element.tag, element.inside, tell));
    tag
}

/// The longest word that stands on one line whatever comes: longer ones are broken where they must be.
const WHOLE: usize = 13;

/// A text. A word in capitals with a hyphen, as a code has it, is not broken behind that, since it
/// would be read as two; no style says so of a part of a text, only an element of its own.
fn text(outer: &str, words: Words) -> VNode {
    let is_whole = |word: &str| {
        word.len() <= WHOLE
            && word.contains('-')
            && !word.bytes().any(|byte| byte.is_ascii_lowercase())
    };
    // In a drawing and in a list to choose from there is nothing but text.
    let is_bare = matches!(outer, "text" | "tspan" | "option");
    if is_bare || !words.split(' ').any(is_whole) {
        return VText::new(value(words)).into();
    }
    // A code alone is one element, and of other texts no word but the codes has one: lists have very many.
    if is_whole(&words) {
        return whole(&words);
    }
    let mut line = VTag::new("span");
    let mut plain = String::new();
    for part in words.split_inclusive(' ') {
        let word = part.trim_end();
        if is_whole(word) {
            line.add_child(VText::new(std::mem::take(&mut plain)).into());
            line.add_child(whole(word));
            plain.push_str(&part[word.len()..]);
        } else {
            plain.push_str(part);
        }
    }
    line.add_child(VText::new(plain).into());
    line.into()
}

fn whole(word: &str) -> VNode {
    let mut shown = VTag::new("span");
    shown.add_attribute("class", "whole");
    shown.add_child(VText::new(word.to_owned()).into());
    shown.into()
}

fn value(words: Words) -> AttrValue {
    match words {
        Words::Borrowed(words) => AttrValue::Static(words),
        Words::Owned(words) => AttrValue::from(words),
    }
}

/// One touch of one element.
struct Listening<M> {
    touch: Touch<M>,
    tell: Callback<M>,
}

impl<M: Clone + 'static> Listener for Listening<M> {
    fn kind(&self) -> ListenerKind {
        match self.touch {
            Touch::Tap(_) | Touch::Placed(_) => ListenerKind::onclick,
            Touch::Typed(_) => ListenerKind::oninput,
            Touch::Chosen(_) => ListenerKind::onchange,
            Touch::Sent(_) => ListenerKind::onsubmit,
        }
    }

    fn handle(&self, event: web_sys::Event) {
        if let Some(meaning) = meaning(&self.touch, &event) {
            self.tell.emit(meaning);
        }
    }

    fn passive(&self) -> bool {
        false
    }
}
