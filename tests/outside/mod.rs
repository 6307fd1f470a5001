//! Checks against sources outside the project; the source stands beside each check.

<<<<<<< HEAD
mod grading;
=======
mod pictures;
>>>>>>> e1e3cc0 (Prepare proof photos: header limits, upright, sRGB, three sizes, shelf and memory gate)
