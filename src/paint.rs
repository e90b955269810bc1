//! Puts drawings on the page, and turns what happens on the page into what it means. The only place
//! where elements become those of the browser.

use std::rc::Rc;

use yew::virtual_dom::{Key, Listener, ListenerKind, VList, VNode, VTag, VText};
use yew::{AttrValue, Callback};

use crate::touched::meaning;
use crate::view::{Element, Node, Touch, Words};

/// Makes a drawing ready for the page; what touches mean goes to `tell`.
pub fn paint<M: Clone + 'static>(drawing: Node<M>, tell: &Callback<M>) -> VNode {
    match drawing {
        Node::Nothing => VNode::default(),
        Node::Text(words) => VText::new(value(words)).into(),
        Node::Element(element) => tag(*element, tell).into(),
        Node::Several(nodes) => VList::with_children(inside(nodes, tell), None).into(),
    }
}

fn inside<M: Clone + 'static>(nodes: Vec<Node<M>>, tell: &Callback<M>) -> Vec<VNode> {
    nodes.into_iter().map(|node| paint(node, tell)).collect()
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
    tag.add_children(inside(element.inside, tell));
    tag
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
