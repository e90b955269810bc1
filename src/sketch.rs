//! Draws once what hardly changes. Where [`paint`](crate::paint) finds out what is new in a drawing,
//! this replaces the whole of it, and so the first screen needs none of what finding out takes.

use std::rc::Rc;

use web_sys::{Document, Element, Event};

use crate::platform::listening::Listening;
use crate::touched::meaning;
use crate::view::{self, Node};

/// Draws into an element of the page whatever is given last.
pub struct Sketch {
    host: Element,
    page: Document,
    heard: Vec<Listening>,
}

impl Sketch {
    /// A sketch in an element of the page; none in an element that is on no page.
    #[must_use]
    pub fn inside(host: Element) -> Option<Self> {
        let page = host.owner_document()?;
        let heard = Vec::new();
        Some(Self { host, page, heard })
    }

    /// Draws in the place of what was drawn before; what touches mean goes to `tell`.
    pub fn draw<M: Clone + 'static>(&mut self, drawing: Node<M>, tell: &Rc<dyn Fn(M)>) {
        self.heard.clear();
        self.host.set_text_content(None);
        let host = self.host.clone();
        self.add(&host, drawing, tell);
    }

    fn add<M: Clone + 'static>(&mut self, to: &Element, node: Node<M>, tell: &Rc<dyn Fn(M)>) {
        match node {
            Node::Nothing => {}
            Node::Text(words) => put(to, &self.page.create_text_node(&words)),
            Node::Several(nodes) => {
                for node in nodes {
                    self.add(to, node, tell);
                }
            }
            Node::Element(element) => self.element(to, *element, tell),
        }
    }

    fn element<M: Clone + 'static>(
        &mut self,
        to: &Element,
        of: view::Element<M>,
        tell: &Rc<dyn Fn(M)>,
    ) {
        // The browser refuses only what is no name of an element, and those are our own.
        let Ok(made) = self.page.create_element(of.tag) else {
            return;
        };
        for (name, value) in of.attributes {
            made.set_attribute(name, &value).unwrap_or_default();
        }
        for touch in of.touches {
            let kind = touch.attribute().trim_start_matches("on");
            let tell = Rc::clone(tell);
            let told = move |event: Event| {
                if let Some(meaning) = meaning(&touch, &event) {
                    tell(meaning);
                }
            };
            self.heard
                .extend(Listening::to(made.clone().into(), kind, told));
        }
        for node in of.inside {
            self.add(&made, node, tell);
        }
        put(to, &made);
    }
}

fn put(to: &Element, node: &web_sys::Node) {
    // A new node that is in no other can always be put in.
    to.append_child(node).map(drop).unwrap_or_default();
}
