"""Several events side by side, for clubs (`page`) and for one rider (`rider_page`)."""
