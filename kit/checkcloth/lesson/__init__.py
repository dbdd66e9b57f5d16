"""The lesson in mixing: live in a notebook, as a file for any browser, and the teacher's page."""

from checkcloth.lesson.page_file import lesson_page, teacher_page

__all__ = ["lesson_page", "teacher_page"]
