//! Help: what the program does and how to begin, in plain words for each role.

use serde::Serialize;

use crate::pages::answer::Reply;
use crate::pages::entry::Ask;

/// Who reads, in the order of the page, and how many paragraphs there are for them.
const READERS: [(&str, usize); 6] = [
    ("student", 5),
    ("assistant", 3),
    ("instructor", 5),
    ("safety-officer", 2),
    ("records", 2),
    ("keeper", 3),
];

#[derive(Serialize)]
struct Reader {
    id: &'static str,
    title: String,
    words: Vec<String>,
}

#[derive(Serialize)]
struct View {
    signed_in: bool,
    readers: Vec<Reader>,
}

/// The page for everybody, signed in or not.
pub async fn page(ask: Ask) -> Reply {
    let speech = &ask.house.speech;
    let reader = |(id, paragraphs): (&'static str, usize)| Reader {
        id,
        title: speech.plain(&format!("help-{id}")),
        words: (1..=paragraphs).map(|number| speech.plain(&format!("help-{id}-{number}"))).collect(),
    };
    let view = View { signed_in: ask.found.person.is_some(), readers: READERS.map(reader).into() };
    ask.show("help", "help-title", &view)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::speech::Speech;

    #[test]
    fn every_paragraph_is_in_the_catalogue_and_none_is_left_out() {
        let speech = Speech::load().unwrap();
        for (id, paragraphs) in READERS {
            assert!(speech.knows(&format!("help-{id}")), "{id}");
            for number in 1..=paragraphs {
                assert!(speech.knows(&format!("help-{id}-{number}")), "{id} {number}");
            }
            assert!(!speech.knows(&format!("help-{id}-{}", paragraphs + 1)), "{id} has more to say");
        }
    }
}
