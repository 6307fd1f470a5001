//! Categories: groups of assessed work that share one weight. All of a class are saved together, because their weights
//! make 100 % together.

use diesel::prelude::*;
use serde_json::json;

use crate::ids::{CategoryId, ClassId};
use crate::store::connections::AnyConnection;
use crate::store::people::theirs::Kind;
use crate::store::schema::{assessment, category};
use crate::store::write::Tx;
use crate::trade::exact::Exact;
use crate::trade::remark::Remark;
use crate::trouble::Trouble;

/// A category of a class.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, serde::Serialize)]
pub struct Category {
    pub id: CategoryId,
    pub title: String,
    /// Basis points of the whole: 5000 is 50 %.
    pub weight_bp: i32,
    pub drop_lowest: i32,
}

/// A category to be kept: one that is there, or a new one.
#[derive(Debug, Clone)]
pub struct CategoryDraft {
    pub id: Option<CategoryId>,
    pub title: String,
    pub weight_bp: i32,
    pub drop_lowest: i32,
}

/// The whole, in basis points.
const ALL_BP: i64 = 10_000;

/// The categories of a class in their order. One statement.
///
/// # Errors
/// The database cannot be read.
pub fn categories(db: &mut AnyConnection, class: ClassId) -> Result<Vec<Category>, Trouble> {
    Ok(category::table
        .filter(category::class_id.eq(class))
        .order((category::position, category::id))
        .select((category::id, category::title, category::weight_bp, category::drop_lowest))
        .load(db)?)
}

/// Says by how much the weights miss 100 %.
///
/// # Errors
/// They do.
pub fn check_weights(drafts: &[CategoryDraft]) -> Result<(), Remark> {
    let sum: i64 = drafts.iter().map(|draft| i64::from(draft.weight_bp)).sum();
    if sum == ALL_BP {
        return Ok(());
    }
    let key = if sum < ALL_BP { "grades-weights-under" } else { "grades-weights-over" };
    Err(Remark::new(key)
        .with("sum", Exact::percent_from_basis_points(sum).to_string())
        .with("by", Exact::percent_from_basis_points((ALL_BP - sum).abs()).to_string()))
}

impl Tx<'_> {
    /// Keeps all categories of a class: changes those named, makes the new ones, takes away those left out. `seen` is the
    /// version of the rules that was looked at.
    ///
    /// # Errors
    /// Stale; the weights miss 100 %; one left out has assessments; one is not of this class.
    pub fn keep_categories(
        &mut self,
        class: ClassId,
        seen: i64,
        drafts: &[CategoryDraft],
    ) -> Result<(), Trouble> {
        check_weights(drafts).map_err(|remark| Trouble::about("", remark))?;
        self.next_rules_version(class, seen)?;
        let standing = categories(self.connection, class)?;
        for draft in drafts {
            if draft.id.is_some_and(|id| standing.iter().all(|one| one.id != id)) {
                return Err(Trouble::NotFound);
            }
        }
        for one in standing.iter().filter(|one| drafts.iter().all(|draft| draft.id != Some(one.id))) {
            self.remove_category(one)?;
        }
        for (position, draft) in (1..).zip(drafts) {
            self.keep_category(class, position, draft)?;
        }
        let all: Vec<_> =
            drafts.iter().map(|one| json!([one.title, one.weight_bp, one.drop_lowest])).collect();
        self.journal("categories.kept", class, &json!({ "categories": all }))
    }

    fn remove_category(&mut self, one: &Category) -> Result<(), Trouble> {
        let used: i64 = assessment::table
            .filter(assessment::category_id.eq(one.id))
            .count()
            .get_result(self.connection)?;
        if used > 0 {
            let remark =
                Remark::new("grades-category-in-use").with("title", one.title.as_str()).with("count", used);
            return Err(Trouble::about("", remark));
        }
        diesel::delete(category::table.find(one.id)).execute(self.connection)?;
        self.forget_theirs(Kind::Category, one.id.as_str())
    }

    fn keep_category(&mut self, class: ClassId, position: i32, draft: &CategoryDraft) -> Result<(), Trouble> {
        let facts = (
            category::position.eq(position),
            category::title.eq(&draft.title),
            category::weight_bp.eq(draft.weight_bp),
            category::drop_lowest.eq(draft.drop_lowest),
        );
        match draft.id {
            Some(id) => diesel::update(category::table.find(id))
                .set((facts, category::version.eq(category::version + 1)))
                .execute(self.connection)?,
            None => {
                let id: CategoryId = self.id();
                diesel::insert_into(category::table)
                    .values((
                        facts,
                        category::id.eq(id),
                        category::class_id.eq(class),
                        category::version.eq(1),
                    ))
                    .execute(self.connection)?
            }
        };
        Ok(())
    }
}
