//! A procedure of the class's own: the shipped way of an aluminium plate with two pictures that the program draws, and a
//! place in a recording on the invented school's own host.

use super::pictures::{take, taken};
use super::school::Founded;
use crate::ids::{Id, PhotoId};
use crate::pages::House;
use crate::photos::drawn::{CameUp, Drawing, Hand, Motif, Paper};
use crate::photos::shelf::PhotoKey;
use crate::store::Scope;
use crate::store::plates::pictures::NewPicture;
use crate::trade::procedure::step::{Recording, Shows};
use crate::trade::procedure::{Surface, shipped};
use crate::trouble::Trouble;

const NAME: &str = "Aluminium plate, as we work in room 012";
const STEP: &str = "roll-up";
const PICTURES: [(Shows, CameUp, &str); 2] = [
    (Shows::Right, CameUp::Clean, "Rolled up well: the lights are open, the darks are closed."),
    (
        Shows::Wrong,
        CameUp::FilledIn,
        "Filled in: the etch was too weak for so much grease. Stop rolling and ask.",
    ),
];

/// Writes and keeps it, in the first days.
pub(super) async fn keep(house: &House, school: &Founded) -> Result<(), Trouble> {
    let shipped = shipped::procedures()
        .map_err(|remark| Trouble::broken("reading the shipped procedures", format!("{remark:?}")))?;
    let mut procedure =
        shipped.into_iter().find(|one| one.surface == Surface::Plate).ok_or(Trouble::NotFound)?;
    NAME.clone_into(&mut procedure.name);
    procedure.find_mut(STEP).ok_or(Trouble::NotFound)?.recording = Some(Recording {
        link: "https://recordings.saltmarsh.college.example/plate-lithography/roll-up".to_owned(),
        minute: 7,
    });
    let at = school.calendar.at(46, "20:10")?;
    let mut pictures = Vec::new();
    for (shows, came_up, caption) in PICTURES {
        let drawing = Drawing { came_up, paper: Paper::White, ..Drawing::new(12, Motif::Bowl, Hand::Crayon) };
        let prepared = tokio::task::spawn_blocking(move || take(&drawing))
            .await
            .map_err(|error| Trouble::broken("drawing a picture of a procedure", error))??;
        let photo: PhotoId = Id::stamped(at, house.db.chance().part()?);
        let key: PhotoKey = photo
            .as_str()
            .parse()
            .map_err(|fault| Trouble::broken("naming a demo picture", format!("{fault:?}")))?;
        let kept = taken(&prepared);
        house.darkroom.put(key, prepared).await?;
        pictures.push(NewPicture {
            photo,
            width: kept.width,
            height: kept.height,
            bytes: kept.bytes,
            shows,
            caption: caption.to_owned(),
        });
    }
    let (class, by) = (school.class, school.person("instructor")?);
    let act = move |tx: &mut crate::store::Tx<'_>| {
        let id = tx.begin_procedure(class, &procedure)?;
        for picture in &pictures {
            tx.add_picture(class, id, STEP, picture)?;
        }
        let seen = i64::try_from(pictures.len()).unwrap_or(0) + 1;
        tx.keep_draft(class, id, seen).map(drop)
    };
    house.db.write(Scope::Class(class), Some(by), at, act).await
}
