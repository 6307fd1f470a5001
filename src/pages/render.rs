//! Templates to text: embedded in the program, strict, filled from typed views; words by `{{say}}`.

use std::sync::{Arc, LazyLock, OnceLock};

use actix_web::HttpResponse;
use actix_web::http::StatusCode;
use handlebars::{
    Context, Handlebars, Helper, HelperDef, HelperResult, Output, RenderContext, RenderErrorReason,
    html_escape,
};
use rust_embed::RustEmbed;
use serde::Serialize;
use serde_json::{Value, json};

use crate::pages::bring_back;
use crate::pages::controls::FieldHelper;
use crate::pages::entry::{Ask, STUDIO_SEATS, Seat};
use crate::pages::people::language;
use crate::pages::reasons::PresetsHelper;
use crate::pages::{answer, assets};
use crate::secrets;
use crate::speech::language::Language;
use crate::speech::{Speech, say};
use crate::trouble::Trouble;

#[derive(RustEmbed)]
#[folder = "templates/"]
#[include = "*.hbs"]
#[exclude = "letters/*"]
struct Files;

/// The digest of a template as it is built in.
#[must_use]
pub(crate) fn hash_of(name: &str) -> Option<[u8; 32]> {
    Some(Files::get(name)?.metadata.sha256_hash())
}

/// Is told the template and the view of every page.
pub type Watcher = Box<dyn Fn(&str, &Value) + Send + Sync>;

/// All page templates, ready to be filled.
pub struct Templates {
    registry: &'static Handlebars<'static>,
    watcher: OnceLock<Watcher>,
}

/// Read when the first house is built, once for the whole program.
static REGISTRY: LazyLock<Result<Handlebars<'static>, String>> = LazyLock::new(registry);

impl std::fmt::Debug for Templates {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Templates")
    }
}

fn registry() -> Result<Handlebars<'static>, String> {
    let speech = Arc::new(Speech::load().map_err(|error| error.to_string())?);
    let mut registry = Handlebars::new();
    registry.set_strict_mode(true);
    for name in Files::iter() {
        let Some(file) = Files::get(&name) else { continue };
        let text = String::from_utf8_lossy(&file.data);
        let name = name.trim_end_matches(".hbs");
        registry.register_template_string(name, text).map_err(|error| format!("{name}: {error}"))?;
    }
    say::register(&mut registry, &speech);
    registry.register_helper("counted", Box::new(CountedHelper));
    registry.register_helper("seal", Box::new(seal));
    registry.register_helper("asset", Box::new(asset));
    registry.register_helper("presets", Box::new(PresetsHelper { speech: speech.clone() }));
    registry.register_helper("field", Box::new(FieldHelper { speech }));
    Ok(registry)
}

impl Templates {
    /// The templates built into the program.
    ///
    /// # Errors
    /// One does not parse.
    pub fn load() -> Result<Self, Trouble> {
        let registry = REGISTRY.as_ref().map_err(|error| Trouble::broken("reading a template", error))?;
        Ok(Self { registry, watcher: OnceLock::new() })
    }

    /// Fills a template.
    ///
    /// # Errors
    /// The view lacks something the template names.
    pub fn fill(&self, name: &str, view: Value) -> Result<String, Trouble> {
        if let Some(watcher) = self.watcher.get() {
            watcher(name, &view);
        }
        // A view handed to `render` would be copied once more, value by value.
        let mut context = Context::null();
        *context.data_mut() = view;
        self.registry
            .render_with_context(name, &context)
            .map_err(|error| Trouble::broken("filling a template", error))
    }

    /// Shows every page's view to a watcher from now on: the bench fills its floor with them. There can be one only.
    pub fn watch(&self, watcher: Watcher) {
        let _first_stays = self.watcher.set(watcher);
    }

    /// The names of all templates, for tests.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        self.registry.get_templates().keys().cloned().collect()
    }
}

/// `(counted @index)`: the place of a row as people count, from one.
struct CountedHelper;

impl HelperDef for CountedHelper {
    fn call_inner<'reg: 'rc, 'rc>(
        &self,
        helper: &Helper<'rc>,
        _: &'reg Handlebars<'reg>,
        _: &'rc Context,
        _: &mut RenderContext<'reg, 'rc>,
    ) -> Result<handlebars::ScopedJson<'rc>, handlebars::RenderError> {
        let place = helper
            .param(0)
            .and_then(|param| param.value().as_i64())
            .ok_or(RenderErrorReason::ParamNotFoundForIndex("counted", 0))?;
        Ok(handlebars::ScopedJson::Derived(Value::from(place + 1)))
    }
}

/// `{{seal}}`: the hidden fields every form of ours carries: its seal and a fresh once-key.
fn seal(
    _: &Helper<'_>,
    _: &Handlebars<'_>,
    context: &Context,
    _: &mut RenderContext<'_, '_>,
    out: &mut dyn Output,
) -> HelperResult {
    let seal = context.data().pointer("/page/seal").and_then(Value::as_str).unwrap_or_default();
    let once = secrets::random::<16>().map_err(|error| RenderErrorReason::Other(error.to_string()))?;
    out.write(&format!(
        "<input type=\"hidden\" name=\"seal\" value=\"{}\"><input type=\"hidden\" name=\"once\" value=\"{}\">",
        html_escape(seal),
        secrets::hex(&once)
    ))?;
    Ok(())
}

/// `{{asset "tympan.css"}}`: where an asset of this version is.
fn asset(
    helper: &Helper<'_>,
    _: &Handlebars<'_>,
    _: &Context,
    _: &mut RenderContext<'_, '_>,
    out: &mut dyn Output,
) -> HelperResult {
    let name = helper.param(0).and_then(|param| param.value().as_str());
    let name = name.ok_or(RenderErrorReason::ParamNotFoundForIndex("asset", 0))?;
    out.write(&assets::address(name))?;
    Ok(())
}

/// One entry of the masthead.
#[derive(Debug, Serialize)]
struct Tab {
    path: String,
    say: &'static str,
    here: bool,
}

impl Ask {
    /// Fills a page: `view` at the root, and what the layout needs as `page`. `title` is a catalogue key without
    /// parameters, or text that is shown as it stands.
    ///
    /// # Errors
    /// The view lacks something the template names.
    pub fn page(
        &self,
        status: StatusCode,
        template: &str,
        title: &str,
        view: &impl Serialize,
    ) -> Result<HttpResponse, Trouble> {
        let mut view =
            serde_json::to_value(view).map_err(|error| Trouble::broken("filling a page", error))?;
        let Some(map) = view.as_object_mut() else {
            return Err(Trouble::broken("filling a page", "a view is an object"));
        };
        map.insert("page".into(), self.layout(title)?);
        Ok(answer::html(status, self.house.templates.fill(template, view)?))
    }

    /// The usual page: 200.
    ///
    /// # Errors
    /// As `page`.
    pub fn show(&self, template: &str, title: &str, view: &impl Serialize) -> Result<HttpResponse, Trouble> {
        self.page(StatusCode::OK, template, title, view)
    }

    /// A form that came back with complaints: 422.
    ///
    /// # Errors
    /// As `page`.
    pub fn show_again(
        &self,
        template: &str,
        title: &str,
        view: &impl Serialize,
    ) -> Result<HttpResponse, Trouble> {
        self.page(StatusCode::UNPROCESSABLE_ENTITY, template, title, view)
    }

    fn layout(&self, title: &str) -> Result<Value, Trouble> {
        let speech = &self.house.speech;
        let title = if speech.knows(title) { speech.plain(title) } else { title.to_owned() };
        let done = self
            .query("done")
            .filter(|key| key.starts_with("done-") && speech.knows(key))
            .map(|key| speech.plain(&key));
        let person = self.found.person.as_ref();
        let place = self.found.membership.as_ref();
        Ok(json!({
            "title": title,
            "language": Language::at_hand(),
            "languages": language::links(self),
            "seal": self.house.key.seal(&self.found.visitor)?,
            "done": done,
            "bring_back": bring_back::offer(self),
            "person": person.map(|person| format!("{} {}", person.given_name, person.family_name)),
            "keeper": person.is_some_and(|person| person.keeper),
            "class": place.map(|place| format!("{}, {}", place.class_title, place.term_name)),
            "settings": place
                .filter(|place| place.seat == Seat::Instructor)
                .map(|place| format!("/classes/{}/settings", place.class)),
            "class_path": place.map(|place| format!("/classes/{}", place.class)),
            // The page of what was found has the field itself.
            "find": place
                .map(|place| format!("/classes/{}/search", place.class))
                .filter(|path| self.request.path() != path),
            "studio": place.map(|place| place.studio_name.clone()),
            "eyewash": place.map(|place| place.eyewash.clone()),
            "packs": place
                .filter(|place| STUDIO_SEATS.contains(&place.seat))
                .map(|place| format!("/classes/{}/table/packs", place.class)),
            "tabs": self.tabs(),
        }))
    }

    /// The pages this person has: of the class at hand, or of the school.
    fn tabs(&self) -> Vec<Tab> {
        let here = self.request.path();
        let Some(place) = &self.found.membership else { return Vec::new() };
        let class = format!("/classes/{}", place.class);
        let names: &[(&str, &'static str)] = match place.seat {
            Seat::Student => &[
                ("", "layout-today"),
                ("/plates", "layout-plates"),
                ("/sign-offs", "layout-sign-offs"),
                ("/grades", "layout-grades"),
                ("/studio", "layout-studio"),
            ],
            Seat::Assistant => &[
                ("", "layout-today"),
                ("/tonight", "layout-tonight"),
                ("/people", "layout-people"),
                ("/plates", "layout-plates"),
                ("/sign-offs", "layout-sign-offs"),
                ("/studio", "layout-studio"),
            ],
            Seat::Instructor => &[
                ("", "layout-today"),
                ("/tonight", "layout-tonight"),
                ("/all", "layout-class"),
                ("/people", "layout-people"),
                ("/plates", "layout-plates"),
                ("/sign-offs", "layout-sign-offs"),
                ("/grades", "layout-grades"),
                ("/studio", "layout-studio"),
                ("/records", "layout-records"),
            ],
            Seat::SafetyOfficer => &[("/sign-offs", "layout-sign-offs"), ("/studio", "layout-studio")],
            Seat::Records => &[
                ("/people", "layout-people"),
                ("/sign-offs", "layout-sign-offs"),
                ("/grades/submitted", "layout-grades"),
                ("/records", "layout-records"),
            ],
        };
        names
            .iter()
            .map(|(part, say)| {
                let path = format!("{class}{part}");
                // What is assessed belongs to the grades.
                let also = (*part == "/grades").then(|| format!("{class}/assessments"));
                let here = match part.is_empty() {
                    true => here == path,
                    false => here.starts_with(&path) || also.is_some_and(|also| here.starts_with(&also)),
                };
                Tab { path, say, here }
            })
            .collect()
    }
}
