//! The order in which the functions of a module stand.
//!
//! Brotli tells of a text what differs from what it met just before, and the order of functions means nothing to a
//! browser. Those of one type that begin alike side by side make the app a hundredth smaller as it is sent.

use wasm_encoder::{Module, NameMap, NameSection, RawSection};
use wasmparser::{BinaryReaderError, KnownCustom, Name, Parser, Payload, TypeRef};

use crate::failure::{Failure, Outcome};

/// From how many bytes on a function is a large one. They stand apart: what is near in them says little of
/// the small ones.
const LARGE: usize = 2000;

/// Between a function's place and its own name.
const MARK: char = ' ';

/// Gives every function a name that begins with its place among those that are like it. The optimiser
/// can put functions into the order of their names, and in no other that is of use here.
pub(crate) fn name_by_likeness(wasm: &[u8]) -> Outcome<Vec<u8>> {
    let failure = |error: BinaryReaderError| {
        Failure::new(format!("reading the optimised module again: {error}"))
    };
    let mut module = Module::new();
    let mut imported = 0;
    let mut types = Vec::new();
    let mut bodies = Vec::new();
    let mut names = Vec::new();
    for payload in Parser::new(0).parse_all(wasm) {
        let payload = payload.map_err(failure)?;
        match &payload {
            Payload::ImportSection(section) => {
                for import in section.clone().into_imports() {
                    if let TypeRef::Func(_) = import.map_err(failure)?.ty {
                        imported += 1;
                    }
                }
            }
            Payload::FunctionSection(section) => {
                for of_type in section.clone() {
                    types.push(of_type.map_err(failure)?);
                }
            }
            Payload::CodeSectionEntry(body) => bodies.push(body.as_bytes()),
            Payload::CustomSection(section) => {
                if let KnownCustom::Name(sections) = section.as_known() {
                    for section in sections {
                        if let Name::Function(map) = section.map_err(failure)? {
                            for naming in map {
                                let naming = naming.map_err(failure)?;
                                names.push((naming.index, naming.name.to_owned()));
                            }
                        }
                    }
                    continue;
                }
            }
            _ => {}
        }
        if let Some((id, range)) = payload.as_section() {
            let data = &wasm[range];
            module.section(&RawSection { id, data });
        }
    }
    let mut order: Vec<usize> = (0..bodies.len()).collect();
    order.sort_by_key(|at| (bodies[*at].len() > LARGE, types[*at], bodies[*at]));
    let mut places = vec![0; bodies.len()];
    for (place, at) in order.into_iter().enumerate() {
        places[at] = place;
    }
    let mut map = NameMap::new();
    for (index, name) in names {
        let own = usize::try_from(index).ok();
        let place = own.and_then(|own| places.get(own.checked_sub(imported)?));
        match place {
            Some(place) => map.append(index, &format!("{place:06}{MARK}{name}")),
            None => map.append(index, &name),
        }
    }
    let mut named = NameSection::new();
    named.functions(&map);
    module.section(&named);
    Ok(module.finish())
}

/// The list of the functions with their own names again, from that which the optimiser wrote.
pub(crate) fn own_names(list: &str) -> String {
    let line = |line: &str| {
        let (number, name) = line.split_once(':').unwrap_or(("", line));
        let own = name.split_once(MARK);
        let own = own.filter(|(place, _)| place.bytes().all(|digit| digit.is_ascii_digit()));
        format!("{number}:{}\n", own.map_or(name, |(_, name)| name))
    };
    list.lines().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A module with an import and a function for each of these numbers that it gives back.
    fn module(numbers: &[i32]) -> Vec<u8> {
        let mut module = walrus::Module::default();
        let none = module.types.add(&[], &[]);
        module.add_import_func("other", "place", none);
        for (at, number) in numbers.iter().enumerate() {
            let mut built =
                walrus::FunctionBuilder::new(&mut module.types, &[], &[walrus::ValType::I32]);
            built
                .name(format!("gives {number}"))
                .func_body()
                .i32_const(*number);
            let id = built.finish(Vec::new(), &mut module.funcs);
            module.exports.add(&at.to_string(), id);
        }
        module.emit_wasm()
    }

    #[test]
    fn functions_that_begin_alike_get_names_side_by_side_and_nothing_else_changes() {
        let numbers = [7, 3, 7, 5];
        let Ok(named) = name_by_likeness(&module(&numbers)) else {
            panic!("it is a module");
        };
        let read = walrus::Module::from_buffer(&named);
        let read = read.unwrap_or_else(|error| panic!("it is one still: {error:#}"));
        let mut names: Vec<&str> = read
            .funcs
            .iter_local()
            .filter_map(|(id, _)| read.funcs.get(id).name.as_deref())
            .collect();
        names.sort_unstable();
        assert_eq!(
            names,
            [
                "000000 gives 3",
                "000001 gives 5",
                "000002 gives 7",
                "000003 gives 7"
            ]
        );
        assert_eq!(read.exports.iter().count(), numbers.len());
        assert_eq!(read.imports.iter().count(), 1);
    }

    #[test]
    fn the_list_tells_the_own_names() {
        let list = "0:an import\n1:000000 <A as B>::c\n2:name\n";
        assert_eq!(own_names(list), "0:an import\n1:<A as B>::c\n2:name\n");
    }

    #[test]
    fn what_is_no_module_is_said() {
        assert!(name_by_likeness(b"no module").is_err());
    }
}
